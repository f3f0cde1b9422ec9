-- The first layout of a studio book.
--
-- Numbers: *_e6 is money in millionths of the currency unit, *_e9 a quantity in billionths of its unit. Money and
-- quantities are never binary floats. A design, the settings and the studio's rates are edited as one document each and are
-- kept as one JSON text, whose amounts are exact decimals written as text.
--
-- Every change of a table named in the second half writes the statement that takes it back into `inverse`, under the
-- action being carried out. Running an action's statements from last to first undoes it, and the same triggers then
-- leave the statements that do it again.

PRAGMA application_id = 0x456E426B;

-- What was done, in order. done: can be undone. undone: can be done again. dropped: undone, and another action came
-- after it. settled: done, too long ago to be undone.
CREATE TABLE action (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    at TEXT NOT NULL,
    name TEXT NOT NULL,
    state TEXT NOT NULL CHECK (state IN ('done', 'undone', 'dropped', 'settled'))
) STRICT;
CREATE INDEX action_by_state ON action (state, id);

-- The orders carried out, so that one given twice is carried out once.
CREATE TABLE action_key (
    key TEXT NOT NULL PRIMARY KEY CHECK (length(key) = 32),
    action_id INTEGER NOT NULL REFERENCES action (id),
    deed TEXT NOT NULL CHECK (deed IN ('do', 'undo', 'redo')),
    at TEXT NOT NULL,
    added_noun TEXT,
    added_id INTEGER,
    moved_value_e6 INTEGER,
    CHECK ((added_noun IS NULL) = (added_id IS NULL))
) WITHOUT ROWID, STRICT;
CREATE INDEX action_key_by_action ON action_key (action_id);

-- The statements that take an action back (or, once it is undone, do it again).
CREATE TABLE inverse (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    action_id INTEGER NOT NULL REFERENCES action (id),
    noun TEXT NOT NULL,
    statement TEXT NOT NULL
) STRICT;
CREATE INDEX inverse_by_action ON inverse (action_id, id);

-- The action being carried out; none between actions. `replaying` is 1 while an action is undone or done again.
CREATE TABLE recording (
    id INTEGER PRIMARY KEY CHECK (id = 1),
    action_id INTEGER REFERENCES action (id),
    replaying INTEGER NOT NULL CHECK (replaying IN (0, 1))
) STRICT;
CREATE INDEX recording_by_action ON recording (action_id);
INSERT INTO recording (id, action_id, replaying) VALUES (1, NULL, 0);

-- How often each noun was changed, so that readers know what to read again.
CREATE TABLE change_count (
    noun TEXT NOT NULL PRIMARY KEY,
    count INTEGER NOT NULL
) WITHOUT ROWID, STRICT;

CREATE TABLE settings (
    id INTEGER PRIMARY KEY CHECK (id = 1),
    body TEXT NOT NULL
) STRICT;

CREATE TABLE studio_rates (
    id INTEGER PRIMARY KEY CHECK (id = 1),
    body TEXT NOT NULL
) STRICT;

-- `details` is what only the item's kind has; `revision` is the action that wrote the row last.
CREATE TABLE item (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    reference TEXT NOT NULL UNIQUE COLLATE NOCASE CHECK (reference <> ''),
    name TEXT NOT NULL CHECK (name <> ''),
    kind TEXT NOT NULL,
    unit TEXT NOT NULL CHECK (unit IN ('g', 'each', 'mm', 'ml')),
    details TEXT NOT NULL,
    maker TEXT NOT NULL,
    maker_number TEXT NOT NULL,
    supplier TEXT NOT NULL,
    shelf TEXT NOT NULL,
    note TEXT NOT NULL,
    reorder_level_e9 INTEGER CHECK (reorder_level_e9 >= 0),
    lead_bearing INTEGER NOT NULL CHECK (lead_bearing IN (0, 1)),
    retired INTEGER NOT NULL CHECK (retired IN (0, 1)),
    revision INTEGER NOT NULL
) STRICT;
CREATE INDEX item_by_name ON item (name, id);

-- The append-only list of movements.
CREATE TABLE movement (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    item_id INTEGER NOT NULL REFERENCES item (id),
    date TEXT NOT NULL CHECK (length(date) = 10),
    kind TEXT NOT NULL CHECK (kind IN ('receipt', 'issue', 'return', 'count', 'write-off')),
    quantity_e9 INTEGER NOT NULL CHECK (quantity_e9 > 0 OR (kind = 'count' AND quantity_e9 = 0)),
    cost_e6 INTEGER CHECK (cost_e6 >= 0),
    lot_id INTEGER REFERENCES movement (id),
    lot_number TEXT NOT NULL,
    supplier TEXT NOT NULL,
    note TEXT NOT NULL,
    typed TEXT NOT NULL,
    CHECK ((kind = 'receipt') = (cost_e6 IS NOT NULL)),
    CHECK (lot_id IS NULL OR kind = 'return')
) STRICT;
-- Valuation reads this index alone, in its order.
CREATE INDEX movement_ledger ON movement (item_id, date, id, kind, quantity_e9, cost_e6, lot_id);
CREATE INDEX movement_by_lot ON movement (lot_id);

-- What an item's movements come to today: computed, kept for lists. Checked against the movements by `check`.
CREATE TABLE item_state (
    item_id INTEGER PRIMARY KEY REFERENCES item (id) ON DELETE CASCADE,
    on_hand_e9 INTEGER NOT NULL CHECK (on_hand_e9 >= 0),
    value_e6 INTEGER NOT NULL CHECK (value_e6 >= 0),
    book_price_e6 INTEGER,
    replacement_price_e6 INTEGER,
    last_moved TEXT
) STRICT;

-- Items whose state must be computed again before the action ends; empty between actions.
CREATE TABLE item_touched (
    item_id INTEGER PRIMARY KEY
) STRICT;

CREATE TABLE photo (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    png BLOB NOT NULL
) STRICT;

CREATE TABLE design (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    code TEXT NOT NULL UNIQUE CHECK (length(code) BETWEEN 1 AND 8),
    name TEXT NOT NULL CHECK (name <> ''),
    body TEXT NOT NULL,
    follows TEXT NOT NULL,
    notes TEXT NOT NULL,
    retired INTEGER NOT NULL CHECK (retired IN (0, 1)),
    photo_id INTEGER REFERENCES photo (id),
    revision INTEGER NOT NULL
) STRICT;
CREATE INDEX design_by_photo ON design (photo_id);

-- Which materials of a design are taken from stock: the same as `follows` says, in a form foreign keys can hold.
CREATE TABLE design_material (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    design_id INTEGER NOT NULL REFERENCES design (id),
    material TEXT NOT NULL,
    item_id INTEGER NOT NULL REFERENCES item (id),
    UNIQUE (design_id, material)
) STRICT;
CREATE INDEX design_material_by_item ON design_material (item_id, design_id);

CREATE TABLE price_list (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    date TEXT NOT NULL CHECK (length(date) = 10),
    name TEXT NOT NULL CHECK (name <> '')
) STRICT;

-- Code and names are kept as they were on the day.
CREATE TABLE price_line (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    price_list_id INTEGER NOT NULL REFERENCES price_list (id),
    design_id INTEGER NOT NULL REFERENCES design (id),
    code TEXT NOT NULL,
    name TEXT NOT NULL,
    channel TEXT NOT NULL CHECK (channel <> ''),
    channel_name TEXT NOT NULL,
    ticket_e6 INTEGER NOT NULL CHECK (ticket_e6 >= 0),
    full_cost_e6 INTEGER NOT NULL,
    common INTEGER NOT NULL CHECK (common IN (0, 1)),
    UNIQUE (price_list_id, design_id, channel)
) STRICT;
CREATE INDEX price_line_by_design ON price_line (design_id);

CREATE TABLE sheet (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    name TEXT NOT NULL UNIQUE COLLATE NOCASE CHECK (name <> ''),
    body TEXT NOT NULL
) STRICT;

-- Movements are never changed, and only undoing the action that wrote one takes it out.
CREATE TRIGGER movement_is_kept_as_written BEFORE UPDATE ON movement BEGIN
    SELECT RAISE (ABORT, 'a movement is never changed');
END;
CREATE TRIGGER movement_is_kept BEFORE DELETE ON movement WHEN (SELECT replaying FROM recording WHERE id = 1) = 0 BEGIN
    SELECT RAISE (ABORT, 'a movement is never deleted');
END;

CREATE TRIGGER movement_touches_item AFTER INSERT ON movement BEGIN
    INSERT OR IGNORE INTO item_touched (item_id) VALUES (NEW.item_id);
END;
CREATE TRIGGER movement_gone_touches_item AFTER DELETE ON movement BEGIN
    INSERT OR IGNORE INTO item_touched (item_id) VALUES (OLD.item_id);
END;
CREATE TRIGGER item_touches_itself AFTER INSERT ON item BEGIN
    INSERT OR IGNORE INTO item_touched (item_id) VALUES (NEW.id);
END;

CREATE TRIGGER settings_insert_inverse AFTER INSERT ON settings
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'settings', 'DELETE FROM settings WHERE id = ' || NEW.id FROM recording WHERE id = 1;
END;
CREATE TRIGGER settings_update_inverse AFTER UPDATE ON settings
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'settings', 'UPDATE settings SET id = ' || OLD.id
        || CASE WHEN OLD.body IS NOT NEW.body COLLATE BINARY THEN ', body = ' || quote(OLD.body) ELSE '' END
        || ' WHERE id = ' || NEW.id
    FROM recording WHERE id = 1;
END;
CREATE TRIGGER settings_delete_inverse AFTER DELETE ON settings
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'settings',
        'INSERT INTO settings (id, body) VALUES (' || OLD.id
        || ', ' || quote(OLD.body)
        || ')'
    FROM recording WHERE id = 1;
END;

CREATE TRIGGER studio_rates_insert_inverse AFTER INSERT ON studio_rates
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'studio_rates', 'DELETE FROM studio_rates WHERE id = ' || NEW.id FROM recording WHERE id = 1;
END;
CREATE TRIGGER studio_rates_update_inverse AFTER UPDATE ON studio_rates
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'studio_rates', 'UPDATE studio_rates SET id = ' || OLD.id
        || CASE WHEN OLD.body IS NOT NEW.body COLLATE BINARY THEN ', body = ' || quote(OLD.body) ELSE '' END
        || ' WHERE id = ' || NEW.id
    FROM recording WHERE id = 1;
END;
CREATE TRIGGER studio_rates_delete_inverse AFTER DELETE ON studio_rates
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'studio_rates',
        'INSERT INTO studio_rates (id, body) VALUES (' || OLD.id
        || ', ' || quote(OLD.body)
        || ')'
    FROM recording WHERE id = 1;
END;

CREATE TRIGGER item_insert_inverse AFTER INSERT ON item
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'item', 'DELETE FROM item WHERE id = ' || NEW.id FROM recording WHERE id = 1;
END;
CREATE TRIGGER item_update_inverse AFTER UPDATE ON item
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'item', 'UPDATE item SET id = ' || OLD.id
        || CASE WHEN OLD.reference IS NOT NEW.reference COLLATE BINARY THEN ', reference = ' || quote(OLD.reference) ELSE '' END
        || CASE WHEN OLD.name IS NOT NEW.name COLLATE BINARY THEN ', name = ' || quote(OLD.name) ELSE '' END
        || CASE WHEN OLD.kind IS NOT NEW.kind COLLATE BINARY THEN ', kind = ' || quote(OLD.kind) ELSE '' END
        || CASE WHEN OLD.unit IS NOT NEW.unit COLLATE BINARY THEN ', unit = ' || quote(OLD.unit) ELSE '' END
        || CASE WHEN OLD.details IS NOT NEW.details COLLATE BINARY THEN ', details = ' || quote(OLD.details) ELSE '' END
        || CASE WHEN OLD.maker IS NOT NEW.maker COLLATE BINARY THEN ', maker = ' || quote(OLD.maker) ELSE '' END
        || CASE WHEN OLD.maker_number IS NOT NEW.maker_number COLLATE BINARY THEN ', maker_number = ' || quote(OLD.maker_number) ELSE '' END
        || CASE WHEN OLD.supplier IS NOT NEW.supplier COLLATE BINARY THEN ', supplier = ' || quote(OLD.supplier) ELSE '' END
        || CASE WHEN OLD.shelf IS NOT NEW.shelf COLLATE BINARY THEN ', shelf = ' || quote(OLD.shelf) ELSE '' END
        || CASE WHEN OLD.note IS NOT NEW.note COLLATE BINARY THEN ', note = ' || quote(OLD.note) ELSE '' END
        || CASE WHEN OLD.reorder_level_e9 IS NOT NEW.reorder_level_e9 COLLATE BINARY THEN ', reorder_level_e9 = ' || quote(OLD.reorder_level_e9) ELSE '' END
        || CASE WHEN OLD.lead_bearing IS NOT NEW.lead_bearing COLLATE BINARY THEN ', lead_bearing = ' || quote(OLD.lead_bearing) ELSE '' END
        || CASE WHEN OLD.retired IS NOT NEW.retired COLLATE BINARY THEN ', retired = ' || quote(OLD.retired) ELSE '' END
        || CASE WHEN OLD.revision IS NOT NEW.revision COLLATE BINARY THEN ', revision = ' || quote(OLD.revision) ELSE '' END
        || ' WHERE id = ' || NEW.id
    FROM recording WHERE id = 1;
END;
CREATE TRIGGER item_delete_inverse AFTER DELETE ON item
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'item',
        'INSERT INTO item (id, reference, name, kind, unit, details, maker, maker_number, supplier, shelf, note, reorder_level_e9, lead_bearing, retired, revision) VALUES (' || OLD.id
        || ', ' || quote(OLD.reference)
        || ', ' || quote(OLD.name)
        || ', ' || quote(OLD.kind)
        || ', ' || quote(OLD.unit)
        || ', ' || quote(OLD.details)
        || ', ' || quote(OLD.maker)
        || ', ' || quote(OLD.maker_number)
        || ', ' || quote(OLD.supplier)
        || ', ' || quote(OLD.shelf)
        || ', ' || quote(OLD.note)
        || ', ' || quote(OLD.reorder_level_e9)
        || ', ' || quote(OLD.lead_bearing)
        || ', ' || quote(OLD.retired)
        || ', ' || quote(OLD.revision)
        || ')'
    FROM recording WHERE id = 1;
END;

CREATE TRIGGER movement_insert_inverse AFTER INSERT ON movement
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'movement', 'DELETE FROM movement WHERE id = ' || NEW.id FROM recording WHERE id = 1;
END;
CREATE TRIGGER movement_delete_inverse AFTER DELETE ON movement
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'movement',
        'INSERT INTO movement (id, item_id, date, kind, quantity_e9, cost_e6, lot_id, lot_number, supplier, note, typed) VALUES (' || OLD.id
        || ', ' || quote(OLD.item_id)
        || ', ' || quote(OLD.date)
        || ', ' || quote(OLD.kind)
        || ', ' || quote(OLD.quantity_e9)
        || ', ' || quote(OLD.cost_e6)
        || ', ' || quote(OLD.lot_id)
        || ', ' || quote(OLD.lot_number)
        || ', ' || quote(OLD.supplier)
        || ', ' || quote(OLD.note)
        || ', ' || quote(OLD.typed)
        || ')'
    FROM recording WHERE id = 1;
END;

CREATE TRIGGER photo_insert_inverse AFTER INSERT ON photo
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'photo', 'DELETE FROM photo WHERE id = ' || NEW.id FROM recording WHERE id = 1;
END;
CREATE TRIGGER photo_update_inverse AFTER UPDATE ON photo
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'photo', 'UPDATE photo SET id = ' || OLD.id
        || CASE WHEN OLD.png IS NOT NEW.png COLLATE BINARY THEN ', png = ' || quote(OLD.png) ELSE '' END
        || ' WHERE id = ' || NEW.id
    FROM recording WHERE id = 1;
END;
CREATE TRIGGER photo_delete_inverse AFTER DELETE ON photo
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'photo',
        'INSERT INTO photo (id, png) VALUES (' || OLD.id
        || ', ' || quote(OLD.png)
        || ')'
    FROM recording WHERE id = 1;
END;

CREATE TRIGGER design_insert_inverse AFTER INSERT ON design
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'design', 'DELETE FROM design WHERE id = ' || NEW.id FROM recording WHERE id = 1;
END;
CREATE TRIGGER design_update_inverse AFTER UPDATE ON design
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'design', 'UPDATE design SET id = ' || OLD.id
        || CASE WHEN OLD.code IS NOT NEW.code COLLATE BINARY THEN ', code = ' || quote(OLD.code) ELSE '' END
        || CASE WHEN OLD.name IS NOT NEW.name COLLATE BINARY THEN ', name = ' || quote(OLD.name) ELSE '' END
        || CASE WHEN OLD.body IS NOT NEW.body COLLATE BINARY THEN ', body = ' || quote(OLD.body) ELSE '' END
        || CASE WHEN OLD.follows IS NOT NEW.follows COLLATE BINARY THEN ', follows = ' || quote(OLD.follows) ELSE '' END
        || CASE WHEN OLD.notes IS NOT NEW.notes COLLATE BINARY THEN ', notes = ' || quote(OLD.notes) ELSE '' END
        || CASE WHEN OLD.retired IS NOT NEW.retired COLLATE BINARY THEN ', retired = ' || quote(OLD.retired) ELSE '' END
        || CASE WHEN OLD.photo_id IS NOT NEW.photo_id COLLATE BINARY THEN ', photo_id = ' || quote(OLD.photo_id) ELSE '' END
        || CASE WHEN OLD.revision IS NOT NEW.revision COLLATE BINARY THEN ', revision = ' || quote(OLD.revision) ELSE '' END
        || ' WHERE id = ' || NEW.id
    FROM recording WHERE id = 1;
END;
CREATE TRIGGER design_delete_inverse AFTER DELETE ON design
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'design',
        'INSERT INTO design (id, code, name, body, follows, notes, retired, photo_id, revision) VALUES (' || OLD.id
        || ', ' || quote(OLD.code)
        || ', ' || quote(OLD.name)
        || ', ' || quote(OLD.body)
        || ', ' || quote(OLD.follows)
        || ', ' || quote(OLD.notes)
        || ', ' || quote(OLD.retired)
        || ', ' || quote(OLD.photo_id)
        || ', ' || quote(OLD.revision)
        || ')'
    FROM recording WHERE id = 1;
END;

CREATE TRIGGER design_material_insert_inverse AFTER INSERT ON design_material
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'design_material', 'DELETE FROM design_material WHERE id = ' || NEW.id FROM recording WHERE id = 1;
END;
CREATE TRIGGER design_material_update_inverse AFTER UPDATE ON design_material
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'design_material', 'UPDATE design_material SET id = ' || OLD.id
        || CASE WHEN OLD.design_id IS NOT NEW.design_id COLLATE BINARY THEN ', design_id = ' || quote(OLD.design_id) ELSE '' END
        || CASE WHEN OLD.material IS NOT NEW.material COLLATE BINARY THEN ', material = ' || quote(OLD.material) ELSE '' END
        || CASE WHEN OLD.item_id IS NOT NEW.item_id COLLATE BINARY THEN ', item_id = ' || quote(OLD.item_id) ELSE '' END
        || ' WHERE id = ' || NEW.id
    FROM recording WHERE id = 1;
END;
CREATE TRIGGER design_material_delete_inverse AFTER DELETE ON design_material
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'design_material',
        'INSERT INTO design_material (id, design_id, material, item_id) VALUES (' || OLD.id
        || ', ' || quote(OLD.design_id)
        || ', ' || quote(OLD.material)
        || ', ' || quote(OLD.item_id)
        || ')'
    FROM recording WHERE id = 1;
END;

CREATE TRIGGER price_list_insert_inverse AFTER INSERT ON price_list
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'price_list', 'DELETE FROM price_list WHERE id = ' || NEW.id FROM recording WHERE id = 1;
END;
CREATE TRIGGER price_list_update_inverse AFTER UPDATE ON price_list
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'price_list', 'UPDATE price_list SET id = ' || OLD.id
        || CASE WHEN OLD.date IS NOT NEW.date COLLATE BINARY THEN ', date = ' || quote(OLD.date) ELSE '' END
        || CASE WHEN OLD.name IS NOT NEW.name COLLATE BINARY THEN ', name = ' || quote(OLD.name) ELSE '' END
        || ' WHERE id = ' || NEW.id
    FROM recording WHERE id = 1;
END;
CREATE TRIGGER price_list_delete_inverse AFTER DELETE ON price_list
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'price_list',
        'INSERT INTO price_list (id, date, name) VALUES (' || OLD.id
        || ', ' || quote(OLD.date)
        || ', ' || quote(OLD.name)
        || ')'
    FROM recording WHERE id = 1;
END;

CREATE TRIGGER price_line_insert_inverse AFTER INSERT ON price_line
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'price_line', 'DELETE FROM price_line WHERE id = ' || NEW.id FROM recording WHERE id = 1;
END;
CREATE TRIGGER price_line_update_inverse AFTER UPDATE ON price_line
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'price_line', 'UPDATE price_line SET id = ' || OLD.id
        || CASE WHEN OLD.price_list_id IS NOT NEW.price_list_id COLLATE BINARY THEN ', price_list_id = ' || quote(OLD.price_list_id) ELSE '' END
        || CASE WHEN OLD.design_id IS NOT NEW.design_id COLLATE BINARY THEN ', design_id = ' || quote(OLD.design_id) ELSE '' END
        || CASE WHEN OLD.code IS NOT NEW.code COLLATE BINARY THEN ', code = ' || quote(OLD.code) ELSE '' END
        || CASE WHEN OLD.name IS NOT NEW.name COLLATE BINARY THEN ', name = ' || quote(OLD.name) ELSE '' END
        || CASE WHEN OLD.channel IS NOT NEW.channel COLLATE BINARY THEN ', channel = ' || quote(OLD.channel) ELSE '' END
        || CASE WHEN OLD.channel_name IS NOT NEW.channel_name COLLATE BINARY THEN ', channel_name = ' || quote(OLD.channel_name) ELSE '' END
        || CASE WHEN OLD.ticket_e6 IS NOT NEW.ticket_e6 COLLATE BINARY THEN ', ticket_e6 = ' || quote(OLD.ticket_e6) ELSE '' END
        || CASE WHEN OLD.full_cost_e6 IS NOT NEW.full_cost_e6 COLLATE BINARY THEN ', full_cost_e6 = ' || quote(OLD.full_cost_e6) ELSE '' END
        || CASE WHEN OLD.common IS NOT NEW.common COLLATE BINARY THEN ', common = ' || quote(OLD.common) ELSE '' END
        || ' WHERE id = ' || NEW.id
    FROM recording WHERE id = 1;
END;
CREATE TRIGGER price_line_delete_inverse AFTER DELETE ON price_line
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'price_line',
        'INSERT INTO price_line (id, price_list_id, design_id, code, name, channel, channel_name, ticket_e6, full_cost_e6, common) VALUES (' || OLD.id
        || ', ' || quote(OLD.price_list_id)
        || ', ' || quote(OLD.design_id)
        || ', ' || quote(OLD.code)
        || ', ' || quote(OLD.name)
        || ', ' || quote(OLD.channel)
        || ', ' || quote(OLD.channel_name)
        || ', ' || quote(OLD.ticket_e6)
        || ', ' || quote(OLD.full_cost_e6)
        || ', ' || quote(OLD.common)
        || ')'
    FROM recording WHERE id = 1;
END;

CREATE TRIGGER sheet_insert_inverse AFTER INSERT ON sheet
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'sheet', 'DELETE FROM sheet WHERE id = ' || NEW.id FROM recording WHERE id = 1;
END;
CREATE TRIGGER sheet_update_inverse AFTER UPDATE ON sheet
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'sheet', 'UPDATE sheet SET id = ' || OLD.id
        || CASE WHEN OLD.name IS NOT NEW.name COLLATE BINARY THEN ', name = ' || quote(OLD.name) ELSE '' END
        || CASE WHEN OLD.body IS NOT NEW.body COLLATE BINARY THEN ', body = ' || quote(OLD.body) ELSE '' END
        || ' WHERE id = ' || NEW.id
    FROM recording WHERE id = 1;
END;
CREATE TRIGGER sheet_delete_inverse AFTER DELETE ON sheet
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'sheet',
        'INSERT INTO sheet (id, name, body) VALUES (' || OLD.id
        || ', ' || quote(OLD.name)
        || ', ' || quote(OLD.body)
        || ')'
    FROM recording WHERE id = 1;
END;
