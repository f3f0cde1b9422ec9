-- A studio book of version 1 with one of everything a person can do, as it was written.
PRAGMA application_id = 1164853867;
PRAGMA user_version = 1;
CREATE TABLE action (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    at TEXT NOT NULL,
    name TEXT NOT NULL,
    state TEXT NOT NULL CHECK (state IN ('done', 'undone', 'dropped', 'settled'))
) STRICT;
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
CREATE TABLE inverse (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    action_id INTEGER NOT NULL REFERENCES action (id),
    noun TEXT NOT NULL,
    statement TEXT NOT NULL
) STRICT;
CREATE TABLE recording (
    id INTEGER PRIMARY KEY CHECK (id = 1),
    action_id INTEGER REFERENCES action (id),
    replaying INTEGER NOT NULL CHECK (replaying IN (0, 1))
) STRICT;
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
CREATE TABLE item_state (
    item_id INTEGER PRIMARY KEY REFERENCES item (id) ON DELETE CASCADE,
    on_hand_e9 INTEGER NOT NULL CHECK (on_hand_e9 >= 0),
    value_e6 INTEGER NOT NULL CHECK (value_e6 >= 0),
    book_price_e6 INTEGER,
    replacement_price_e6 INTEGER,
    last_moved TEXT
) STRICT;
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
CREATE TABLE design_material (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    design_id INTEGER NOT NULL REFERENCES design (id),
    material TEXT NOT NULL,
    item_id INTEGER NOT NULL REFERENCES item (id),
    UNIQUE (design_id, material)
) STRICT;
CREATE TABLE price_list (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    date TEXT NOT NULL CHECK (length(date) = 10),
    name TEXT NOT NULL CHECK (name <> '')
) STRICT;
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
CREATE TABLE sheet (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    name TEXT NOT NULL UNIQUE COLLATE NOCASE CHECK (name <> ''),
    body TEXT NOT NULL
) STRICT;
INSERT INTO action (id, at, name, state) VALUES (1, '2026-03-14 12:00', 'Add Fen green', 'done');
INSERT INTO action (id, at, name, state) VALUES (10, '2026-03-14 12:00', 'Give design LEAF a photo', 'done');
INSERT INTO action (id, at, name, state) VALUES (11, '2026-03-14 12:00', 'Duplicate design LEAF as LEAF-2', 'done');
INSERT INTO action (id, at, name, state) VALUES (12, '2026-03-14 12:00', 'Give design LEAF a photo', 'done');
INSERT INTO action (id, at, name, state) VALUES (13, '2026-03-14 12:00', 'Change design LEAF to FROND', 'done');
INSERT INTO action (id, at, name, state) VALUES (14, '2026-03-14 12:00', 'Set design FROND aside', 'done');
INSERT INTO action (id, at, name, state) VALUES (15, '2026-03-14 12:00', 'Take the photo of design FROND away', 'done');
INSERT INTO action (id, at, name, state) VALUES (16, '2026-03-14 12:00', 'Change fen GREEN', 'done');
INSERT INTO action (id, at, name, state) VALUES (17, '2026-03-14 12:00', 'Change the settings', 'done');
INSERT INTO action (id, at, name, state) VALUES (18, '2026-03-14 12:00', 'Change the studio''s rates', 'done');
INSERT INTO action (id, at, name, state) VALUES (19, '2026-03-14 12:00', 'Add sheet Mine', 'done');
INSERT INTO action (id, at, name, state) VALUES (2, '2026-03-14 12:00', 'Add Flux', 'done');
INSERT INTO action (id, at, name, state) VALUES (20, '2026-03-14 12:00', 'Accept 1 price: Harbour Fair', 'done');
INSERT INTO action (id, at, name, state) VALUES (3, '2026-03-14 12:00', 'Receive 100 g of Fen green', 'done');
INSERT INTO action (id, at, name, state) VALUES (4, '2026-03-14 12:00', 'Receive 2 lots', 'done');
INSERT INTO action (id, at, name, state) VALUES (5, '2026-03-14 12:00', 'Issue 33.333 g of Fen green', 'done');
INSERT INTO action (id, at, name, state) VALUES (6, '2026-03-14 12:00', 'Write off 1 g of Fen green', 'done');
INSERT INTO action (id, at, name, state) VALUES (7, '2026-03-14 12:00', 'Return 2 g of Fen green', 'done');
INSERT INTO action (id, at, name, state) VALUES (8, '2026-03-14 12:00', 'Count 49 g of Flux', 'done');
INSERT INTO action (id, at, name, state) VALUES (9, '2026-03-14 12:00', 'Add design LEAF', 'done');
INSERT INTO action_key (key, action_id, deed, at, added_noun, added_id, moved_value_e6) VALUES ('00000000000000000000000000000001', 1, 'do', '2026-03-14 12:00', 'item', 1, NULL);
INSERT INTO action_key (key, action_id, deed, at, added_noun, added_id, moved_value_e6) VALUES ('00000000000000000000000000000002', 2, 'do', '2026-03-14 12:00', 'item', 2, NULL);
INSERT INTO action_key (key, action_id, deed, at, added_noun, added_id, moved_value_e6) VALUES ('00000000000000000000000000000003', 3, 'do', '2026-03-14 12:00', NULL, NULL, NULL);
INSERT INTO action_key (key, action_id, deed, at, added_noun, added_id, moved_value_e6) VALUES ('00000000000000000000000000000004', 4, 'do', '2026-03-14 12:00', NULL, NULL, NULL);
INSERT INTO action_key (key, action_id, deed, at, added_noun, added_id, moved_value_e6) VALUES ('00000000000000000000000000000005', 5, 'do', '2026-03-14 12:00', NULL, NULL, 3336633);
INSERT INTO action_key (key, action_id, deed, at, added_noun, added_id, moved_value_e6) VALUES ('00000000000000000000000000000006', 6, 'do', '2026-03-14 12:00', NULL, NULL, 100100);
INSERT INTO action_key (key, action_id, deed, at, added_noun, added_id, moved_value_e6) VALUES ('00000000000000000000000000000007', 7, 'do', '2026-03-14 12:00', NULL, NULL, 493835);
INSERT INTO action_key (key, action_id, deed, at, added_noun, added_id, moved_value_e6) VALUES ('00000000000000000000000000000008', 8, 'do', '2026-03-14 12:00', NULL, NULL, 0);
INSERT INTO action_key (key, action_id, deed, at, added_noun, added_id, moved_value_e6) VALUES ('00000000000000000000000000000009', 9, 'do', '2026-03-14 12:00', 'design', 1, NULL);
INSERT INTO action_key (key, action_id, deed, at, added_noun, added_id, moved_value_e6) VALUES ('0000000000000000000000000000000a', 10, 'do', '2026-03-14 12:00', NULL, NULL, NULL);
INSERT INTO action_key (key, action_id, deed, at, added_noun, added_id, moved_value_e6) VALUES ('0000000000000000000000000000000b', 11, 'do', '2026-03-14 12:00', 'design', 2, NULL);
INSERT INTO action_key (key, action_id, deed, at, added_noun, added_id, moved_value_e6) VALUES ('0000000000000000000000000000000c', 12, 'do', '2026-03-14 12:00', NULL, NULL, NULL);
INSERT INTO action_key (key, action_id, deed, at, added_noun, added_id, moved_value_e6) VALUES ('0000000000000000000000000000000d', 13, 'do', '2026-03-14 12:00', NULL, NULL, NULL);
INSERT INTO action_key (key, action_id, deed, at, added_noun, added_id, moved_value_e6) VALUES ('0000000000000000000000000000000e', 14, 'do', '2026-03-14 12:00', NULL, NULL, NULL);
INSERT INTO action_key (key, action_id, deed, at, added_noun, added_id, moved_value_e6) VALUES ('0000000000000000000000000000000f', 15, 'do', '2026-03-14 12:00', NULL, NULL, NULL);
INSERT INTO action_key (key, action_id, deed, at, added_noun, added_id, moved_value_e6) VALUES ('00000000000000000000000000000010', 16, 'do', '2026-03-14 12:00', NULL, NULL, NULL);
INSERT INTO action_key (key, action_id, deed, at, added_noun, added_id, moved_value_e6) VALUES ('00000000000000000000000000000011', 17, 'do', '2026-03-14 12:00', NULL, NULL, NULL);
INSERT INTO action_key (key, action_id, deed, at, added_noun, added_id, moved_value_e6) VALUES ('00000000000000000000000000000012', 18, 'do', '2026-03-14 12:00', NULL, NULL, NULL);
INSERT INTO action_key (key, action_id, deed, at, added_noun, added_id, moved_value_e6) VALUES ('00000000000000000000000000000013', 19, 'do', '2026-03-14 12:00', 'sheet', 5, NULL);
INSERT INTO action_key (key, action_id, deed, at, added_noun, added_id, moved_value_e6) VALUES ('00000000000000000000000000000014', 20, 'do', '2026-03-14 12:00', 'price_list', 1, NULL);
INSERT INTO inverse (id, action_id, noun, statement) VALUES (1, 1, 'item', 'DELETE FROM item WHERE id = 1');
INSERT INTO inverse (id, action_id, noun, statement) VALUES (10, 9, 'design', 'DELETE FROM design WHERE id = 1');
INSERT INTO inverse (id, action_id, noun, statement) VALUES (11, 9, 'design_material', 'DELETE FROM design_material WHERE id = 1');
INSERT INTO inverse (id, action_id, noun, statement) VALUES (12, 10, 'photo', 'DELETE FROM photo WHERE id = 1');
INSERT INTO inverse (id, action_id, noun, statement) VALUES (13, 10, 'design', 'UPDATE design SET id = 1, photo_id = NULL, revision = 9 WHERE id = 1');
INSERT INTO inverse (id, action_id, noun, statement) VALUES (14, 11, 'design', 'DELETE FROM design WHERE id = 2');
INSERT INTO inverse (id, action_id, noun, statement) VALUES (15, 11, 'design_material', 'DELETE FROM design_material WHERE id = 2');
INSERT INTO inverse (id, action_id, noun, statement) VALUES (16, 11, 'design', 'UPDATE design SET id = 2, photo_id = NULL WHERE id = 2');
INSERT INTO inverse (id, action_id, noun, statement) VALUES (17, 12, 'photo', 'DELETE FROM photo WHERE id = 2');
INSERT INTO inverse (id, action_id, noun, statement) VALUES (18, 12, 'design', 'UPDATE design SET id = 1, photo_id = 1, revision = 10 WHERE id = 1');
INSERT INTO inverse (id, action_id, noun, statement) VALUES (19, 13, 'design', 'UPDATE design SET id = 1, code = ''LEAF'', name = ''Design LEAF'', body = ''{"currency":"USD","code":"LEAF","name":"Design LEAF","pieces":12,"for_children":false,"rates":{"labour_per_hour":"24.00","overhead_per_hour":"6.50","scrap_value":"0"},"kiln":{"kwh_per_load":"0.35","price_per_kwh":"0.19","recovery_minutes":"4","wear_per_hour":"0.45","solder_margin_c":"38"},"blank":{"metal":"copper","thickness":{"gauge":18},"outline":{"shape":"disc","diameter_mm":"30"},"dome_height_mm":"0","holes_mm":[],"solder_flow_c":null,"count":1},"materials":[{"id":"green","name":"Fen green","kind":"enamel","unit":"g","price":"0.112","fusing":null,"lead_bearing":false,"metal":null}],"steps":[{"kind":"prepare","name":"prepare","setup_minutes":"0","minutes_per_piece":"2.5","good":"0.98","uses":[]},{"kind":{"fire":{"celsius":"780","minutes":"2.5","pieces_per_load":6,"attended_minutes_per_load":"6"}},"name":"fire","setup_minutes":"0","minutes_per_piece":"2.5","good":"0.98","uses":[]}],"channels":[]}'', follows = ''{"labour":true,"overhead":false,"kiln":false,"channels":[],"materials":{"green":1}}'', notes = '''', revision = 12 WHERE id = 1');
INSERT INTO inverse (id, action_id, noun, statement) VALUES (2, 2, 'item', 'DELETE FROM item WHERE id = 2');
INSERT INTO inverse (id, action_id, noun, statement) VALUES (20, 13, 'design_material', 'INSERT INTO design_material (id, design_id, material, item_id) VALUES (1, 1, ''green'', 1)');
INSERT INTO inverse (id, action_id, noun, statement) VALUES (21, 13, 'design_material', 'DELETE FROM design_material WHERE id = 3');
INSERT INTO inverse (id, action_id, noun, statement) VALUES (22, 14, 'design', 'UPDATE design SET id = 1, retired = 0, revision = 13 WHERE id = 1');
INSERT INTO inverse (id, action_id, noun, statement) VALUES (23, 15, 'design', 'UPDATE design SET id = 1, photo_id = 2, revision = 14 WHERE id = 1');
INSERT INTO inverse (id, action_id, noun, statement) VALUES (24, 15, 'photo', 'INSERT INTO photo (id, png) VALUES (2, X''89504E470D0A1A0A6F74686572'')');
INSERT INTO inverse (id, action_id, noun, statement) VALUES (25, 16, 'item', 'UPDATE item SET id = 1, reference = ''CO-001'', name = ''Fen green'', retired = 0, revision = 1 WHERE id = 1');
INSERT INTO inverse (id, action_id, noun, statement) VALUES (26, 17, 'settings', 'UPDATE settings SET id = 1, body = ''{"studio_name":"","studio_place":"","care_words":"","currency":"USD","decimal_comma":false,"temperature":"celsius","length":"millimetre","mass":"gram","thickness":"gauge","valuation":"fifo","price_on_book_cost":false,"fair_name":"","fair_date":null}'' WHERE id = 1');
INSERT INTO inverse (id, action_id, noun, statement) VALUES (27, 18, 'studio_rates', 'UPDATE studio_rates SET id = 1, body = ''{"overhead":[{"name":"Rent or share of the house","per_year":"2400"},{"name":"Insurance","per_year":"320"},{"name":"Light, water, telephone","per_year":"540"},{"name":"Tools and repairs","per_year":"480"},{"name":"Licences and bookkeeping","per_year":"260"}],"normal_hours_per_year":"1000","labour_per_hour":"22","elements_cost":"180","elements_hours":"1200","thermocouple_cost":"35","thermocouple_hours":"1000","price_per_kwh":"0.18","kwh_per_load":"0.4","recovery_minutes":"4","solder_margin_c":"38","channels":[{"id":"fair","name":"Craft fair","retail":true,"commission":"0","card_fee":"0.026","card_fee_fixed":"0.10","tax":"0","tax_in_price":false,"selling_cost":"3","target":{"margin":"0.35"},"price_points":[{"up_to":"50","step":"1","less":"0"},{"up_to":"200","step":"5","less":"0"},{"up_to":null,"step":"10","less":"0"}]},{"id":"gallery","name":"Gallery","retail":true,"commission":"0.40","card_fee":"0","card_fee_fixed":"0","tax":"0","tax_in_price":false,"selling_cost":"1.5","target":{"margin":"0.15"},"price_points":[{"up_to":"50","step":"1","less":"0"},{"up_to":"200","step":"5","less":"0"},{"up_to":null,"step":"10","less":"0"}]},{"id":"wholesale","name":"Wholesale","retail":false,"commission":"0","card_fee":"0","card_fee_fixed":"0","tax":"0","tax_in_price":false,"selling_cost":"1","target":{"markup":"0.25"},"price_points":[{"up_to":null,"step":"0.5","less":"0"}]}]}'' WHERE id = 1');
INSERT INTO inverse (id, action_id, noun, statement) VALUES (28, 19, 'sheet', 'DELETE FROM sheet WHERE id = 5');
INSERT INTO inverse (id, action_id, noun, statement) VALUES (29, 20, 'price_list', 'DELETE FROM price_list WHERE id = 1');
INSERT INTO inverse (id, action_id, noun, statement) VALUES (3, 3, 'movement', 'DELETE FROM movement WHERE id = 1');
INSERT INTO inverse (id, action_id, noun, statement) VALUES (30, 20, 'price_line', 'DELETE FROM price_line WHERE id = 1');
INSERT INTO inverse (id, action_id, noun, statement) VALUES (4, 4, 'movement', 'DELETE FROM movement WHERE id = 2');
INSERT INTO inverse (id, action_id, noun, statement) VALUES (5, 4, 'movement', 'DELETE FROM movement WHERE id = 3');
INSERT INTO inverse (id, action_id, noun, statement) VALUES (6, 5, 'movement', 'DELETE FROM movement WHERE id = 4');
INSERT INTO inverse (id, action_id, noun, statement) VALUES (7, 6, 'movement', 'DELETE FROM movement WHERE id = 5');
INSERT INTO inverse (id, action_id, noun, statement) VALUES (8, 7, 'movement', 'DELETE FROM movement WHERE id = 6');
INSERT INTO inverse (id, action_id, noun, statement) VALUES (9, 8, 'movement', 'DELETE FROM movement WHERE id = 7');
INSERT INTO recording (id, action_id, replaying) VALUES (1, NULL, 0);
INSERT INTO change_count (noun, count) VALUES ('design', 7);
INSERT INTO change_count (noun, count) VALUES ('design_material', 3);
INSERT INTO change_count (noun, count) VALUES ('item', 3);
INSERT INTO change_count (noun, count) VALUES ('movement', 6);
INSERT INTO change_count (noun, count) VALUES ('photo', 3);
INSERT INTO change_count (noun, count) VALUES ('price_line', 1);
INSERT INTO change_count (noun, count) VALUES ('price_list', 1);
INSERT INTO change_count (noun, count) VALUES ('settings', 1);
INSERT INTO change_count (noun, count) VALUES ('sheet', 1);
INSERT INTO change_count (noun, count) VALUES ('studio_rates', 1);
INSERT INTO settings (id, body) VALUES (1, '{"studio_name":"","studio_place":"","care_words":"","currency":"USD","decimal_comma":false,"temperature":"celsius","length":"millimetre","mass":"gram","thickness":"gauge","valuation":"average","price_on_book_cost":false,"fair_name":"","fair_date":null}');
INSERT INTO studio_rates (id, body) VALUES (1, '{"overhead":[{"name":"Rent or share of the house","per_year":"2400"},{"name":"Insurance","per_year":"320"},{"name":"Light, water, telephone","per_year":"540"},{"name":"Tools and repairs","per_year":"480"},{"name":"Licences and bookkeeping","per_year":"260"}],"normal_hours_per_year":"1000","labour_per_hour":"22","elements_cost":"180","elements_hours":"1200","thermocouple_cost":"35","thermocouple_hours":"1000","price_per_kwh":"0.18","kwh_per_load":"0.4","recovery_minutes":"4","solder_margin_c":"38","channels":[{"id":"fair","name":"Craft fair","retail":true,"commission":"0","card_fee":"0.026","card_fee_fixed":"0.10","tax":"0","tax_in_price":false,"selling_cost":"3","target":{"margin":"0.35"},"price_points":[{"up_to":"50","step":"1","less":"0"},{"up_to":"200","step":"5","less":"0"},{"up_to":null,"step":"10","less":"0"}]},{"id":"gallery","name":"Gallery","retail":true,"commission":"0.40","card_fee":"0","card_fee_fixed":"0","tax":"0","tax_in_price":false,"selling_cost":"1.5","target":{"margin":"0.15"},"price_points":[{"up_to":"50","step":"1","less":"0"},{"up_to":"200","step":"5","less":"0"},{"up_to":null,"step":"10","less":"0"}]}]}');
INSERT INTO item (id, reference, name, kind, unit, details, maker, maker_number, supplier, shelf, note, reorder_level_e9, lead_bearing, retired, revision) VALUES (1, 'co-001', 'fen GREEN', 'consumable', 'g', '{"kind":"consumable"}', '', '', 'Tidewater supply', 'A3', '', 50000000000, 0, 1, 16);
INSERT INTO item (id, reference, name, kind, unit, details, maker, maker_number, supplier, shelf, note, reorder_level_e9, lead_bearing, retired, revision) VALUES (2, 'CO-002', 'Flux', 'consumable', 'g', '{"kind":"consumable"}', '', '', 'Tidewater supply', 'A3', '', 50000000000, 0, 0, 2);
INSERT INTO movement (id, item_id, date, kind, quantity_e9, cost_e6, lot_id, lot_number, supplier, note, typed) VALUES (1, 1, '2026-01-10', 'receipt', 100000000000, 10010000, NULL, '', '', '', '100 g');
INSERT INTO movement (id, item_id, date, kind, quantity_e9, cost_e6, lot_id, lot_number, supplier, note, typed) VALUES (2, 1, '2026-01-12', 'receipt', 28349523125, 7000000, NULL, '', '', '', '28.349523125 g');
INSERT INTO movement (id, item_id, date, kind, quantity_e9, cost_e6, lot_id, lot_number, supplier, note, typed) VALUES (3, 2, '2026-01-12', 'receipt', 50000000000, 0, NULL, '', '', '', '50 g');
INSERT INTO movement (id, item_id, date, kind, quantity_e9, cost_e6, lot_id, lot_number, supplier, note, typed) VALUES (4, 1, '2026-02-01', 'issue', 33333000000, NULL, NULL, '', '', '', '33.333 g');
INSERT INTO movement (id, item_id, date, kind, quantity_e9, cost_e6, lot_id, lot_number, supplier, note, typed) VALUES (5, 1, '2026-02-02', 'write-off', 1000000000, NULL, NULL, '', '', '', '1 g');
INSERT INTO movement (id, item_id, date, kind, quantity_e9, cost_e6, lot_id, lot_number, supplier, note, typed) VALUES (6, 1, '2026-02-03', 'return', 2000000000, NULL, NULL, '', 'Tidewater supply', '', '2 g');
INSERT INTO movement (id, item_id, date, kind, quantity_e9, cost_e6, lot_id, lot_number, supplier, note, typed) VALUES (7, 2, '2026-02-04', 'count', 49000000000, NULL, NULL, '', '', '', '49 g');
INSERT INTO item_state (item_id, on_hand_e9, value_e6, book_price_e6, replacement_price_e6, last_moved) VALUES (1, 92016523125, 11966056, 130042, 246918, '2026-02-03');
INSERT INTO item_state (item_id, on_hand_e9, value_e6, book_price_e6, replacement_price_e6, last_moved) VALUES (2, 49000000000, 0, 0, 0, '2026-02-04');
INSERT INTO photo (id, png) VALUES (1, X'89504E470D0A1A0A20616E642000206D6F7265');
INSERT INTO design (id, code, name, body, follows, notes, retired, photo_id, revision) VALUES (1, 'FROND', 'Design FROND', '{"currency":"USD","code":"FROND","name":"Design FROND","pieces":12,"for_children":false,"rates":{"labour_per_hour":"24.00","overhead_per_hour":"6.50","scrap_value":"0"},"kiln":{"kwh_per_load":"0.35","price_per_kwh":"0.19","recovery_minutes":"4","wear_per_hour":"0.45","solder_margin_c":"38"},"blank":{"metal":"copper","thickness":{"gauge":18},"outline":{"shape":"disc","diameter_mm":"30"},"dome_height_mm":"0","holes_mm":[],"solder_flow_c":null,"count":1},"materials":[{"id":"green","name":"Fen green","kind":"enamel","unit":"g","price":"0.112","fusing":null,"lead_bearing":false,"metal":null}],"steps":[{"kind":"prepare","name":"prepare","setup_minutes":"0","minutes_per_piece":"2.5","good":"0.98","uses":[]},{"kind":{"fire":{"celsius":"780","minutes":"2.5","pieces_per_load":6,"attended_minutes_per_load":"6"}},"name":"fire","setup_minutes":"0","minutes_per_piece":"2.5","good":"0.98","uses":[]}],"channels":[]}', '{"labour":true,"overhead":false,"kiln":false,"channels":[],"materials":{"green":2}}', 'It''s "finer"
so', 1, NULL, 15);
INSERT INTO design (id, code, name, body, follows, notes, retired, photo_id, revision) VALUES (2, 'LEAF-2', 'Leaf two', '{"currency":"USD","code":"LEAF-2","name":"Leaf two","pieces":12,"for_children":false,"rates":{"labour_per_hour":"24.00","overhead_per_hour":"6.50","scrap_value":"0"},"kiln":{"kwh_per_load":"0.35","price_per_kwh":"0.19","recovery_minutes":"4","wear_per_hour":"0.45","solder_margin_c":"38"},"blank":{"metal":"copper","thickness":{"gauge":18},"outline":{"shape":"disc","diameter_mm":"30"},"dome_height_mm":"0","holes_mm":[],"solder_flow_c":null,"count":1},"materials":[{"id":"green","name":"Fen green","kind":"enamel","unit":"g","price":"0.112","fusing":null,"lead_bearing":false,"metal":null}],"steps":[{"kind":"prepare","name":"prepare","setup_minutes":"0","minutes_per_piece":"2.5","good":"0.98","uses":[]},{"kind":{"fire":{"celsius":"780","minutes":"2.5","pieces_per_load":6,"attended_minutes_per_load":"6"}},"name":"fire","setup_minutes":"0","minutes_per_piece":"2.5","good":"0.98","uses":[]}],"channels":[]}', '{"labour":true,"overhead":false,"kiln":false,"channels":[],"materials":{"green":1}}', '', 0, 1, 11);
INSERT INTO design_material (id, design_id, material, item_id) VALUES (2, 2, 'green', 1);
INSERT INTO design_material (id, design_id, material, item_id) VALUES (3, 1, 'green', 2);
INSERT INTO price_list (id, date, name) VALUES (1, '2026-03-01', 'Harbour Fair');
INSERT INTO price_line (id, price_list_id, design_id, code, name, channel, channel_name, ticket_e6, full_cost_e6, common) VALUES (1, 1, 1, 'FROND', 'Design FROND', 'fair', 'Craft fair', 24000000, 12345678, 0);
INSERT INTO sheet (id, name, body) VALUES (1, 'A4 strung tags 60 × 24', '{"name":"A4 strung tags 60 × 24","page_width_mm":"210","page_height_mm":"297","left_mm":"13","top_mm":"19.5","label_width_mm":"60","label_height_mm":"24","pitch_x_mm":"62","pitch_y_mm":"26","columns":3,"rows":10,"folded":false,"hole":true,"cut_lines":true}');
INSERT INTO sheet (id, name, body) VALUES (2, 'A4 fold-over tags 40 × 22', '{"name":"A4 fold-over tags 40 × 22","page_width_mm":"210","page_height_mm":"297","left_mm":"23","top_mm":"17.5","label_width_mm":"80","label_height_mm":"22","pitch_x_mm":"84","pitch_y_mm":"24","columns":2,"rows":11,"folded":true,"hole":true,"cut_lines":true}');
INSERT INTO sheet (id, name, body) VALUES (3, 'Letter strung tags 60 × 24', '{"name":"Letter strung tags 60 × 24","page_width_mm":"215.9","page_height_mm":"279.4","left_mm":"15.95","top_mm":"23.7","label_width_mm":"60","label_height_mm":"24","pitch_x_mm":"62","pitch_y_mm":"26","columns":3,"rows":9,"folded":false,"hole":true,"cut_lines":true}');
INSERT INTO sheet (id, name, body) VALUES (4, 'Letter fold-over tags 40 × 22', '{"name":"Letter fold-over tags 40 × 22","page_width_mm":"215.9","page_height_mm":"279.4","left_mm":"25.95","top_mm":"20.7","label_width_mm":"80","label_height_mm":"22","pitch_x_mm":"84","pitch_y_mm":"24","columns":2,"rows":10,"folded":true,"hole":true,"cut_lines":true}');
INSERT INTO sheet (id, name, body) VALUES (5, 'Mine', '{"name":"Mine","page_width_mm":"210","page_height_mm":"297","left_mm":"13","top_mm":"19.5","label_width_mm":"60","label_height_mm":"24","pitch_x_mm":"62","pitch_y_mm":"26","columns":3,"rows":10,"folded":false,"hole":true,"cut_lines":true}');
INSERT INTO sqlite_sequence (name, seq) VALUES ('action', 20);
INSERT INTO sqlite_sequence (name, seq) VALUES ('design', 2);
INSERT INTO sqlite_sequence (name, seq) VALUES ('design_material', 3);
INSERT INTO sqlite_sequence (name, seq) VALUES ('inverse', 30);
INSERT INTO sqlite_sequence (name, seq) VALUES ('item', 2);
INSERT INTO sqlite_sequence (name, seq) VALUES ('movement', 7);
INSERT INTO sqlite_sequence (name, seq) VALUES ('photo', 2);
INSERT INTO sqlite_sequence (name, seq) VALUES ('price_line', 1);
INSERT INTO sqlite_sequence (name, seq) VALUES ('price_list', 1);
INSERT INTO sqlite_sequence (name, seq) VALUES ('sheet', 5);
CREATE INDEX action_by_state ON action (state, id);
CREATE INDEX action_key_by_action ON action_key (action_id);
CREATE INDEX inverse_by_action ON inverse (action_id, id);
CREATE INDEX recording_by_action ON recording (action_id);
CREATE INDEX item_by_name ON item (name, id);
CREATE INDEX movement_ledger ON movement (item_id, date, id, kind, quantity_e9, cost_e6, lot_id);
CREATE INDEX movement_by_lot ON movement (lot_id);
CREATE INDEX design_by_photo ON design (photo_id);
CREATE INDEX design_material_by_item ON design_material (item_id, design_id);
CREATE INDEX price_line_by_design ON price_line (design_id);
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
