-- Stock to trust: wash-backs, prices corrected later, orders, jars, cuts, files that were read.
--
-- Numbers and undo are as in the first layout: *_e6 is money in millionths, *_e9 a quantity, a rate or a share in
-- billionths; every change of a table named in the second half writes the statement that takes it back.

-- `buying` is how the item is bought again: lead time, pack, smallest order. One JSON text.
ALTER TABLE item ADD COLUMN buying TEXT NOT NULL DEFAULT '{}';

-- A movement may be a wash-back, which comes in as a lot at a cost. The list is copied into a table that allows it; rows
-- keep their numbers, and numbers once given do not come back.
CREATE TABLE movement_wider (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    item_id INTEGER NOT NULL REFERENCES item (id),
    date TEXT NOT NULL CHECK (length(date) = 10),
    kind TEXT NOT NULL CHECK (kind IN ('receipt', 'issue', 'return', 'count', 'write-off', 'wash-back')),
    quantity_e9 INTEGER NOT NULL CHECK (quantity_e9 > 0 OR (kind = 'count' AND quantity_e9 = 0)),
    cost_e6 INTEGER CHECK (cost_e6 >= 0),
    lot_id INTEGER REFERENCES movement_wider (id),
    lot_number TEXT NOT NULL,
    supplier TEXT NOT NULL,
    note TEXT NOT NULL,
    typed TEXT NOT NULL,
    CHECK ((kind IN ('receipt', 'wash-back')) = (cost_e6 IS NOT NULL)),
    CHECK (lot_id IS NULL OR kind = 'return')
) STRICT;
INSERT INTO movement_wider (id, item_id, date, kind, quantity_e9, cost_e6, lot_id, lot_number, supplier, note, typed)
SELECT id, item_id, date, kind, quantity_e9, cost_e6, lot_id, lot_number, supplier, note, typed FROM movement ORDER BY id;
INSERT INTO sqlite_sequence (name, seq)
SELECT 'movement_wider', seq FROM sqlite_sequence
WHERE name = 'movement' AND NOT EXISTS (SELECT 1 FROM sqlite_sequence WHERE name = 'movement_wider');
UPDATE sqlite_sequence SET seq = (SELECT seq FROM sqlite_sequence WHERE name = 'movement')
WHERE name = 'movement_wider' AND EXISTS (SELECT 1 FROM sqlite_sequence WHERE name = 'movement');
DROP TABLE movement;
ALTER TABLE movement_wider RENAME TO movement;
-- Valuation reads this index alone, in its order.
CREATE INDEX movement_ledger ON movement (item_id, date, id, kind, quantity_e9, cost_e6, lot_id);
CREATE INDEX movement_by_lot ON movement (lot_id);

-- The whole landed cost of a lot, corrected later; the newest of a lot holds. Never changed, only undone. `item_id` is
-- the lot's, so that valuing an item finds its corrections at once.
CREATE TABLE lot_correction (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    item_id INTEGER NOT NULL REFERENCES item (id),
    lot_id INTEGER NOT NULL REFERENCES movement (id),
    date TEXT NOT NULL CHECK (length(date) = 10),
    cost_e6 INTEGER NOT NULL CHECK (cost_e6 >= 0),
    note TEXT NOT NULL
) STRICT;
CREATE INDEX lot_correction_ledger ON lot_correction (item_id, id, lot_id, cost_e6);
CREATE INDEX lot_correction_by_lot ON lot_correction (lot_id, id);

-- What was ordered. `rate_e9`: how many of the book's currency one of the order's currency is worth. Freight, duty and
-- discount are in the order's currency. `closed`: nothing more is expected.
CREATE TABLE purchase_order (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    supplier TEXT NOT NULL,
    reference TEXT NOT NULL,
    date TEXT NOT NULL CHECK (length(date) = 10),
    currency TEXT NOT NULL CHECK (length(currency) = 3),
    rate_e9 INTEGER NOT NULL CHECK (rate_e9 > 0),
    freight_e6 INTEGER NOT NULL CHECK (freight_e6 >= 0),
    duty_e6 INTEGER NOT NULL CHECK (duty_e6 >= 0),
    discount_e6 INTEGER NOT NULL CHECK (discount_e6 >= 0),
    spread TEXT NOT NULL CHECK (spread IN ('value', 'weight')),
    note TEXT NOT NULL,
    closed INTEGER NOT NULL CHECK (closed IN (0, 1)),
    revision INTEGER NOT NULL
) STRICT;
CREATE INDEX purchase_order_by_state ON purchase_order (closed, date, id);

-- A line of an order: packs ordered, what one pack holds in the item's unit, the price of all packs in the order's
-- currency, their weight in grams where freight is spread by it.
CREATE TABLE purchase_line (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    order_id INTEGER NOT NULL REFERENCES purchase_order (id),
    place INTEGER NOT NULL CHECK (place >= 0),
    item_id INTEGER NOT NULL REFERENCES item (id),
    packs_e9 INTEGER NOT NULL CHECK (packs_e9 > 0),
    pack_e9 INTEGER NOT NULL CHECK (pack_e9 > 0),
    pack_words TEXT NOT NULL,
    price_e6 INTEGER NOT NULL CHECK (price_e6 >= 0),
    weight_e9 INTEGER CHECK (weight_e9 >= 0)
) STRICT;
CREATE INDEX purchase_line_by_order ON purchase_line (order_id, place);
CREATE INDEX purchase_line_by_item ON purchase_line (item_id);

-- Which receipt brought how many packs of which line.
CREATE TABLE delivery_line (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    line_id INTEGER NOT NULL REFERENCES purchase_line (id),
    movement_id INTEGER NOT NULL UNIQUE REFERENCES movement (id),
    packs_e9 INTEGER NOT NULL CHECK (packs_e9 > 0)
) STRICT;
CREATE INDEX delivery_line_by_line ON delivery_line (line_id, id);

-- An invoice or a photo kept with an order.
CREATE TABLE attachment (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    order_id INTEGER NOT NULL REFERENCES purchase_order (id),
    name TEXT NOT NULL CHECK (name <> ''),
    media_type TEXT NOT NULL,
    bytes BLOB NOT NULL
) STRICT;
CREATE INDEX attachment_by_order ON attachment (order_id, id);

-- A jar that stands on the scale; tare in grams.
CREATE TABLE jar (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    item_id INTEGER NOT NULL REFERENCES item (id),
    label TEXT NOT NULL UNIQUE COLLATE NOCASE CHECK (label <> ''),
    tare_e9 INTEGER NOT NULL CHECK (tare_e9 >= 0),
    retired INTEGER NOT NULL CHECK (retired IN (0, 1))
) STRICT;
CREATE INDEX jar_by_item ON jar (item_id, id);

-- What the scale showed; `movement_id` is the count it led to.
CREATE TABLE weighing (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    jar_id INTEGER NOT NULL REFERENCES jar (id),
    date TEXT NOT NULL CHECK (length(date) = 10),
    gross_e9 INTEGER NOT NULL CHECK (gross_e9 >= 0),
    movement_id INTEGER REFERENCES movement (id)
) STRICT;
CREATE INDEX weighing_by_jar ON weighing (jar_id, date, id);
CREATE INDEX weighing_by_movement ON weighing (movement_id);

-- Sheet cut into blanks and off-cuts: the movement that issued the sheet, bench time and what it is worth, scrap in
-- grams and the share of the metal's value that goes with it (in the same measure as the shares of the lines).
CREATE TABLE cut (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    movement_id INTEGER NOT NULL UNIQUE REFERENCES movement (id),
    bench_minutes_e9 INTEGER NOT NULL CHECK (bench_minutes_e9 >= 0),
    bench_value_e6 INTEGER NOT NULL CHECK (bench_value_e6 >= 0),
    scrap_e9 INTEGER NOT NULL CHECK (scrap_e9 >= 0),
    scrap_share_e9 INTEGER NOT NULL CHECK (scrap_share_e9 >= 0)
) STRICT;

-- What a cut made: the receipt, and its share of the metal (area, in any one measure for the whole cut).
CREATE TABLE cut_line (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    cut_id INTEGER NOT NULL REFERENCES cut (id),
    movement_id INTEGER NOT NULL UNIQUE REFERENCES movement (id),
    part TEXT NOT NULL CHECK (part IN ('blank', 'off-cut')),
    share_e9 INTEGER NOT NULL CHECK (share_e9 > 0)
) STRICT;
CREATE INDEX cut_line_by_cut ON cut_line (cut_id, id);

-- Which columns were picked for files of one shape.
CREATE TABLE import_shape (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    fingerprint TEXT NOT NULL UNIQUE CHECK (fingerprint <> ''),
    body TEXT NOT NULL
) STRICT;

-- Movements and corrections are never changed, and only undoing the action that wrote one takes it out.
CREATE TRIGGER movement_is_kept_as_written BEFORE UPDATE ON movement BEGIN
    SELECT RAISE (ABORT, 'a movement is never changed');
END;
CREATE TRIGGER movement_is_kept BEFORE DELETE ON movement WHEN (SELECT replaying FROM recording WHERE id = 1) = 0 BEGIN
    SELECT RAISE (ABORT, 'a movement is never deleted');
END;
CREATE TRIGGER lot_correction_is_kept_as_written BEFORE UPDATE ON lot_correction BEGIN
    SELECT RAISE (ABORT, 'a correction is never changed');
END;
CREATE TRIGGER lot_correction_is_kept BEFORE DELETE ON lot_correction
WHEN (SELECT replaying FROM recording WHERE id = 1) = 0 BEGIN
    SELECT RAISE (ABORT, 'a correction is never deleted');
END;

CREATE TRIGGER movement_touches_item AFTER INSERT ON movement BEGIN
    INSERT OR IGNORE INTO item_touched (item_id) VALUES (NEW.item_id);
END;
CREATE TRIGGER movement_gone_touches_item AFTER DELETE ON movement BEGIN
    INSERT OR IGNORE INTO item_touched (item_id) VALUES (OLD.item_id);
END;
CREATE TRIGGER lot_correction_touches_item AFTER INSERT ON lot_correction BEGIN
    INSERT OR IGNORE INTO item_touched (item_id) VALUES (NEW.item_id);
END;
CREATE TRIGGER lot_correction_gone_touches_item AFTER DELETE ON lot_correction BEGIN
    INSERT OR IGNORE INTO item_touched (item_id) VALUES (OLD.item_id);
END;

-- The item's undo knows the new column.
DROP TRIGGER item_update_inverse;
DROP TRIGGER item_delete_inverse;

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
        || CASE WHEN OLD.buying IS NOT NEW.buying COLLATE BINARY THEN ', buying = ' || quote(OLD.buying) ELSE '' END
        || ' WHERE id = ' || NEW.id
    FROM recording WHERE id = 1;
END;
CREATE TRIGGER item_delete_inverse AFTER DELETE ON item
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'item',
        'INSERT INTO item (id, reference, name, kind, unit, details, maker, maker_number, supplier, shelf, note, reorder_level_e9, lead_bearing, retired, revision, buying) VALUES (' || OLD.id
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
        || ', ' || quote(OLD.buying)
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

CREATE TRIGGER lot_correction_insert_inverse AFTER INSERT ON lot_correction
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'lot_correction', 'DELETE FROM lot_correction WHERE id = ' || NEW.id FROM recording WHERE id = 1;
END;
CREATE TRIGGER lot_correction_delete_inverse AFTER DELETE ON lot_correction
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'lot_correction',
        'INSERT INTO lot_correction (id, item_id, lot_id, date, cost_e6, note) VALUES (' || OLD.id
        || ', ' || quote(OLD.item_id)
        || ', ' || quote(OLD.lot_id)
        || ', ' || quote(OLD.date)
        || ', ' || quote(OLD.cost_e6)
        || ', ' || quote(OLD.note)
        || ')'
    FROM recording WHERE id = 1;
END;

CREATE TRIGGER purchase_order_insert_inverse AFTER INSERT ON purchase_order
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'purchase_order', 'DELETE FROM purchase_order WHERE id = ' || NEW.id FROM recording WHERE id = 1;
END;
CREATE TRIGGER purchase_order_update_inverse AFTER UPDATE ON purchase_order
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'purchase_order', 'UPDATE purchase_order SET id = ' || OLD.id
        || CASE WHEN OLD.supplier IS NOT NEW.supplier COLLATE BINARY THEN ', supplier = ' || quote(OLD.supplier) ELSE '' END
        || CASE WHEN OLD.reference IS NOT NEW.reference COLLATE BINARY THEN ', reference = ' || quote(OLD.reference) ELSE '' END
        || CASE WHEN OLD.date IS NOT NEW.date COLLATE BINARY THEN ', date = ' || quote(OLD.date) ELSE '' END
        || CASE WHEN OLD.currency IS NOT NEW.currency COLLATE BINARY THEN ', currency = ' || quote(OLD.currency) ELSE '' END
        || CASE WHEN OLD.rate_e9 IS NOT NEW.rate_e9 COLLATE BINARY THEN ', rate_e9 = ' || quote(OLD.rate_e9) ELSE '' END
        || CASE WHEN OLD.freight_e6 IS NOT NEW.freight_e6 COLLATE BINARY THEN ', freight_e6 = ' || quote(OLD.freight_e6) ELSE '' END
        || CASE WHEN OLD.duty_e6 IS NOT NEW.duty_e6 COLLATE BINARY THEN ', duty_e6 = ' || quote(OLD.duty_e6) ELSE '' END
        || CASE WHEN OLD.discount_e6 IS NOT NEW.discount_e6 COLLATE BINARY THEN ', discount_e6 = ' || quote(OLD.discount_e6) ELSE '' END
        || CASE WHEN OLD.spread IS NOT NEW.spread COLLATE BINARY THEN ', spread = ' || quote(OLD.spread) ELSE '' END
        || CASE WHEN OLD.note IS NOT NEW.note COLLATE BINARY THEN ', note = ' || quote(OLD.note) ELSE '' END
        || CASE WHEN OLD.closed IS NOT NEW.closed COLLATE BINARY THEN ', closed = ' || quote(OLD.closed) ELSE '' END
        || CASE WHEN OLD.revision IS NOT NEW.revision COLLATE BINARY THEN ', revision = ' || quote(OLD.revision) ELSE '' END
        || ' WHERE id = ' || NEW.id
    FROM recording WHERE id = 1;
END;
CREATE TRIGGER purchase_order_delete_inverse AFTER DELETE ON purchase_order
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'purchase_order',
        'INSERT INTO purchase_order (id, supplier, reference, date, currency, rate_e9, freight_e6, duty_e6, discount_e6, spread, note, closed, revision) VALUES (' || OLD.id
        || ', ' || quote(OLD.supplier)
        || ', ' || quote(OLD.reference)
        || ', ' || quote(OLD.date)
        || ', ' || quote(OLD.currency)
        || ', ' || quote(OLD.rate_e9)
        || ', ' || quote(OLD.freight_e6)
        || ', ' || quote(OLD.duty_e6)
        || ', ' || quote(OLD.discount_e6)
        || ', ' || quote(OLD.spread)
        || ', ' || quote(OLD.note)
        || ', ' || quote(OLD.closed)
        || ', ' || quote(OLD.revision)
        || ')'
    FROM recording WHERE id = 1;
END;

CREATE TRIGGER purchase_line_insert_inverse AFTER INSERT ON purchase_line
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'purchase_line', 'DELETE FROM purchase_line WHERE id = ' || NEW.id FROM recording WHERE id = 1;
END;
CREATE TRIGGER purchase_line_update_inverse AFTER UPDATE ON purchase_line
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'purchase_line', 'UPDATE purchase_line SET id = ' || OLD.id
        || CASE WHEN OLD.order_id IS NOT NEW.order_id COLLATE BINARY THEN ', order_id = ' || quote(OLD.order_id) ELSE '' END
        || CASE WHEN OLD.place IS NOT NEW.place COLLATE BINARY THEN ', place = ' || quote(OLD.place) ELSE '' END
        || CASE WHEN OLD.item_id IS NOT NEW.item_id COLLATE BINARY THEN ', item_id = ' || quote(OLD.item_id) ELSE '' END
        || CASE WHEN OLD.packs_e9 IS NOT NEW.packs_e9 COLLATE BINARY THEN ', packs_e9 = ' || quote(OLD.packs_e9) ELSE '' END
        || CASE WHEN OLD.pack_e9 IS NOT NEW.pack_e9 COLLATE BINARY THEN ', pack_e9 = ' || quote(OLD.pack_e9) ELSE '' END
        || CASE WHEN OLD.pack_words IS NOT NEW.pack_words COLLATE BINARY THEN ', pack_words = ' || quote(OLD.pack_words) ELSE '' END
        || CASE WHEN OLD.price_e6 IS NOT NEW.price_e6 COLLATE BINARY THEN ', price_e6 = ' || quote(OLD.price_e6) ELSE '' END
        || CASE WHEN OLD.weight_e9 IS NOT NEW.weight_e9 COLLATE BINARY THEN ', weight_e9 = ' || quote(OLD.weight_e9) ELSE '' END
        || ' WHERE id = ' || NEW.id
    FROM recording WHERE id = 1;
END;
CREATE TRIGGER purchase_line_delete_inverse AFTER DELETE ON purchase_line
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'purchase_line',
        'INSERT INTO purchase_line (id, order_id, place, item_id, packs_e9, pack_e9, pack_words, price_e6, weight_e9) VALUES (' || OLD.id
        || ', ' || quote(OLD.order_id)
        || ', ' || quote(OLD.place)
        || ', ' || quote(OLD.item_id)
        || ', ' || quote(OLD.packs_e9)
        || ', ' || quote(OLD.pack_e9)
        || ', ' || quote(OLD.pack_words)
        || ', ' || quote(OLD.price_e6)
        || ', ' || quote(OLD.weight_e9)
        || ')'
    FROM recording WHERE id = 1;
END;

CREATE TRIGGER delivery_line_insert_inverse AFTER INSERT ON delivery_line
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'delivery_line', 'DELETE FROM delivery_line WHERE id = ' || NEW.id FROM recording WHERE id = 1;
END;
CREATE TRIGGER delivery_line_update_inverse AFTER UPDATE ON delivery_line
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'delivery_line', 'UPDATE delivery_line SET id = ' || OLD.id
        || CASE WHEN OLD.line_id IS NOT NEW.line_id COLLATE BINARY THEN ', line_id = ' || quote(OLD.line_id) ELSE '' END
        || CASE WHEN OLD.movement_id IS NOT NEW.movement_id COLLATE BINARY THEN ', movement_id = ' || quote(OLD.movement_id) ELSE '' END
        || CASE WHEN OLD.packs_e9 IS NOT NEW.packs_e9 COLLATE BINARY THEN ', packs_e9 = ' || quote(OLD.packs_e9) ELSE '' END
        || ' WHERE id = ' || NEW.id
    FROM recording WHERE id = 1;
END;
CREATE TRIGGER delivery_line_delete_inverse AFTER DELETE ON delivery_line
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'delivery_line',
        'INSERT INTO delivery_line (id, line_id, movement_id, packs_e9) VALUES (' || OLD.id
        || ', ' || quote(OLD.line_id)
        || ', ' || quote(OLD.movement_id)
        || ', ' || quote(OLD.packs_e9)
        || ')'
    FROM recording WHERE id = 1;
END;

CREATE TRIGGER attachment_insert_inverse AFTER INSERT ON attachment
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'attachment', 'DELETE FROM attachment WHERE id = ' || NEW.id FROM recording WHERE id = 1;
END;
CREATE TRIGGER attachment_update_inverse AFTER UPDATE ON attachment
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'attachment', 'UPDATE attachment SET id = ' || OLD.id
        || CASE WHEN OLD.order_id IS NOT NEW.order_id COLLATE BINARY THEN ', order_id = ' || quote(OLD.order_id) ELSE '' END
        || CASE WHEN OLD.name IS NOT NEW.name COLLATE BINARY THEN ', name = ' || quote(OLD.name) ELSE '' END
        || CASE WHEN OLD.media_type IS NOT NEW.media_type COLLATE BINARY THEN ', media_type = ' || quote(OLD.media_type) ELSE '' END
        || CASE WHEN OLD.bytes IS NOT NEW.bytes COLLATE BINARY THEN ', bytes = ' || quote(OLD.bytes) ELSE '' END
        || ' WHERE id = ' || NEW.id
    FROM recording WHERE id = 1;
END;
CREATE TRIGGER attachment_delete_inverse AFTER DELETE ON attachment
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'attachment',
        'INSERT INTO attachment (id, order_id, name, media_type, bytes) VALUES (' || OLD.id
        || ', ' || quote(OLD.order_id)
        || ', ' || quote(OLD.name)
        || ', ' || quote(OLD.media_type)
        || ', ' || quote(OLD.bytes)
        || ')'
    FROM recording WHERE id = 1;
END;

CREATE TRIGGER jar_insert_inverse AFTER INSERT ON jar
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'jar', 'DELETE FROM jar WHERE id = ' || NEW.id FROM recording WHERE id = 1;
END;
CREATE TRIGGER jar_update_inverse AFTER UPDATE ON jar
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'jar', 'UPDATE jar SET id = ' || OLD.id
        || CASE WHEN OLD.item_id IS NOT NEW.item_id COLLATE BINARY THEN ', item_id = ' || quote(OLD.item_id) ELSE '' END
        || CASE WHEN OLD.label IS NOT NEW.label COLLATE BINARY THEN ', label = ' || quote(OLD.label) ELSE '' END
        || CASE WHEN OLD.tare_e9 IS NOT NEW.tare_e9 COLLATE BINARY THEN ', tare_e9 = ' || quote(OLD.tare_e9) ELSE '' END
        || CASE WHEN OLD.retired IS NOT NEW.retired COLLATE BINARY THEN ', retired = ' || quote(OLD.retired) ELSE '' END
        || ' WHERE id = ' || NEW.id
    FROM recording WHERE id = 1;
END;
CREATE TRIGGER jar_delete_inverse AFTER DELETE ON jar
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'jar',
        'INSERT INTO jar (id, item_id, label, tare_e9, retired) VALUES (' || OLD.id
        || ', ' || quote(OLD.item_id)
        || ', ' || quote(OLD.label)
        || ', ' || quote(OLD.tare_e9)
        || ', ' || quote(OLD.retired)
        || ')'
    FROM recording WHERE id = 1;
END;

CREATE TRIGGER weighing_insert_inverse AFTER INSERT ON weighing
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'weighing', 'DELETE FROM weighing WHERE id = ' || NEW.id FROM recording WHERE id = 1;
END;
CREATE TRIGGER weighing_update_inverse AFTER UPDATE ON weighing
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'weighing', 'UPDATE weighing SET id = ' || OLD.id
        || CASE WHEN OLD.jar_id IS NOT NEW.jar_id COLLATE BINARY THEN ', jar_id = ' || quote(OLD.jar_id) ELSE '' END
        || CASE WHEN OLD.date IS NOT NEW.date COLLATE BINARY THEN ', date = ' || quote(OLD.date) ELSE '' END
        || CASE WHEN OLD.gross_e9 IS NOT NEW.gross_e9 COLLATE BINARY THEN ', gross_e9 = ' || quote(OLD.gross_e9) ELSE '' END
        || CASE WHEN OLD.movement_id IS NOT NEW.movement_id COLLATE BINARY THEN ', movement_id = ' || quote(OLD.movement_id) ELSE '' END
        || ' WHERE id = ' || NEW.id
    FROM recording WHERE id = 1;
END;
CREATE TRIGGER weighing_delete_inverse AFTER DELETE ON weighing
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'weighing',
        'INSERT INTO weighing (id, jar_id, date, gross_e9, movement_id) VALUES (' || OLD.id
        || ', ' || quote(OLD.jar_id)
        || ', ' || quote(OLD.date)
        || ', ' || quote(OLD.gross_e9)
        || ', ' || quote(OLD.movement_id)
        || ')'
    FROM recording WHERE id = 1;
END;

CREATE TRIGGER cut_insert_inverse AFTER INSERT ON cut
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'cut', 'DELETE FROM cut WHERE id = ' || NEW.id FROM recording WHERE id = 1;
END;
CREATE TRIGGER cut_update_inverse AFTER UPDATE ON cut
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'cut', 'UPDATE cut SET id = ' || OLD.id
        || CASE WHEN OLD.movement_id IS NOT NEW.movement_id COLLATE BINARY THEN ', movement_id = ' || quote(OLD.movement_id) ELSE '' END
        || CASE WHEN OLD.bench_minutes_e9 IS NOT NEW.bench_minutes_e9 COLLATE BINARY THEN ', bench_minutes_e9 = ' || quote(OLD.bench_minutes_e9) ELSE '' END
        || CASE WHEN OLD.bench_value_e6 IS NOT NEW.bench_value_e6 COLLATE BINARY THEN ', bench_value_e6 = ' || quote(OLD.bench_value_e6) ELSE '' END
        || CASE WHEN OLD.scrap_e9 IS NOT NEW.scrap_e9 COLLATE BINARY THEN ', scrap_e9 = ' || quote(OLD.scrap_e9) ELSE '' END
        || CASE WHEN OLD.scrap_share_e9 IS NOT NEW.scrap_share_e9 COLLATE BINARY THEN ', scrap_share_e9 = ' || quote(OLD.scrap_share_e9) ELSE '' END
        || ' WHERE id = ' || NEW.id
    FROM recording WHERE id = 1;
END;
CREATE TRIGGER cut_delete_inverse AFTER DELETE ON cut
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'cut',
        'INSERT INTO cut (id, movement_id, bench_minutes_e9, bench_value_e6, scrap_e9, scrap_share_e9) VALUES (' || OLD.id
        || ', ' || quote(OLD.movement_id)
        || ', ' || quote(OLD.bench_minutes_e9)
        || ', ' || quote(OLD.bench_value_e6)
        || ', ' || quote(OLD.scrap_e9)
        || ', ' || quote(OLD.scrap_share_e9)
        || ')'
    FROM recording WHERE id = 1;
END;

CREATE TRIGGER cut_line_insert_inverse AFTER INSERT ON cut_line
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'cut_line', 'DELETE FROM cut_line WHERE id = ' || NEW.id FROM recording WHERE id = 1;
END;
CREATE TRIGGER cut_line_update_inverse AFTER UPDATE ON cut_line
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'cut_line', 'UPDATE cut_line SET id = ' || OLD.id
        || CASE WHEN OLD.cut_id IS NOT NEW.cut_id COLLATE BINARY THEN ', cut_id = ' || quote(OLD.cut_id) ELSE '' END
        || CASE WHEN OLD.movement_id IS NOT NEW.movement_id COLLATE BINARY THEN ', movement_id = ' || quote(OLD.movement_id) ELSE '' END
        || CASE WHEN OLD.part IS NOT NEW.part COLLATE BINARY THEN ', part = ' || quote(OLD.part) ELSE '' END
        || CASE WHEN OLD.share_e9 IS NOT NEW.share_e9 COLLATE BINARY THEN ', share_e9 = ' || quote(OLD.share_e9) ELSE '' END
        || ' WHERE id = ' || NEW.id
    FROM recording WHERE id = 1;
END;
CREATE TRIGGER cut_line_delete_inverse AFTER DELETE ON cut_line
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'cut_line',
        'INSERT INTO cut_line (id, cut_id, movement_id, part, share_e9) VALUES (' || OLD.id
        || ', ' || quote(OLD.cut_id)
        || ', ' || quote(OLD.movement_id)
        || ', ' || quote(OLD.part)
        || ', ' || quote(OLD.share_e9)
        || ')'
    FROM recording WHERE id = 1;
END;

CREATE TRIGGER import_shape_insert_inverse AFTER INSERT ON import_shape
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'import_shape', 'DELETE FROM import_shape WHERE id = ' || NEW.id FROM recording WHERE id = 1;
END;
CREATE TRIGGER import_shape_update_inverse AFTER UPDATE ON import_shape
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'import_shape', 'UPDATE import_shape SET id = ' || OLD.id
        || CASE WHEN OLD.fingerprint IS NOT NEW.fingerprint COLLATE BINARY THEN ', fingerprint = ' || quote(OLD.fingerprint) ELSE '' END
        || CASE WHEN OLD.body IS NOT NEW.body COLLATE BINARY THEN ', body = ' || quote(OLD.body) ELSE '' END
        || ' WHERE id = ' || NEW.id
    FROM recording WHERE id = 1;
END;
CREATE TRIGGER import_shape_delete_inverse AFTER DELETE ON import_shape
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'import_shape',
        'INSERT INTO import_shape (id, fingerprint, body) VALUES (' || OLD.id
        || ', ' || quote(OLD.fingerprint)
        || ', ' || quote(OLD.body)
        || ')'
    FROM recording WHERE id = 1;
END;
