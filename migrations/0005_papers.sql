-- Papers: designs of her own, pictures, printers, what was printed, her own wording, papers that go out under a number.
--
-- Numbers and undo are as in the first layout. A `body` is one JSON text.

-- A small paper of her own.
CREATE TABLE paper_design (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    name TEXT NOT NULL UNIQUE COLLATE NOCASE CHECK (name <> ''),
    kind TEXT NOT NULL CHECK (kind <> ''),
    body TEXT NOT NULL,
    retired INTEGER NOT NULL CHECK (retired IN (0, 1))
) STRICT;

-- A logo or ornament.
CREATE TABLE picture (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    name TEXT NOT NULL UNIQUE COLLATE NOCASE CHECK (name <> ''),
    png BLOB NOT NULL
) STRICT;

-- A printer, with what was measured of it.
CREATE TABLE printer (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    name TEXT NOT NULL UNIQUE CHECK (name <> ''),
    body TEXT NOT NULL
) STRICT;

-- The next free label of the sheet that was begun, from 1.
CREATE TABLE sheet_use (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    sheet_id INTEGER NOT NULL UNIQUE REFERENCES sheet (id),
    next_label INTEGER NOT NULL CHECK (next_label >= 1)
) STRICT;

-- Tags that were printed.
CREATE TABLE printed_tag (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    design_id INTEGER NOT NULL REFERENCES design (id),
    channel TEXT NOT NULL CHECK (channel <> ''),
    piece_id INTEGER REFERENCES piece (id),
    ticket_e6 INTEGER NOT NULL CHECK (ticket_e6 >= 0),
    date TEXT NOT NULL CHECK (length(date) = 10),
    copies INTEGER NOT NULL CHECK (copies > 0)
) STRICT;
CREATE INDEX printed_tag_by_design ON printed_tag (design_id, channel, id);
CREATE INDEX printed_tag_by_piece ON printed_tag (piece_id, id);

-- Her own words in place of a phrase of a language.
CREATE TABLE own_words (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    language TEXT NOT NULL CHECK (length(language) = 2),
    phrase TEXT NOT NULL CHECK (phrase <> ''),
    words TEXT NOT NULL CHECK (words <> ''),
    UNIQUE (language, phrase)
) STRICT;

-- A paper that went out, as it was.
CREATE TABLE numbered_paper (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    kind TEXT NOT NULL CHECK (kind IN ('order', 'invoice', 'consignment', 'certificate')),
    number INTEGER NOT NULL CHECK (number > 0),
    date TEXT NOT NULL CHECK (length(date) = 10),
    body TEXT NOT NULL,
    UNIQUE (kind, number)
) STRICT;

-- The EAN-13 of a design or an item, thirteen digits.
CREATE TABLE trade_number (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    design_id INTEGER UNIQUE REFERENCES design (id),
    item_id INTEGER UNIQUE REFERENCES item (id),
    number TEXT NOT NULL UNIQUE CHECK (length(number) = 13),
    CHECK ((design_id IS NULL) <> (item_id IS NULL))
) STRICT;

CREATE TRIGGER paper_design_insert_inverse AFTER INSERT ON paper_design
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'paper_design', 'DELETE FROM paper_design WHERE id = ' || NEW.id FROM recording WHERE id = 1;
END;
CREATE TRIGGER paper_design_update_inverse AFTER UPDATE ON paper_design
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'paper_design', 'UPDATE paper_design SET id = ' || OLD.id
        || CASE WHEN OLD.name IS NOT NEW.name COLLATE BINARY THEN ', name = ' || quote(OLD.name) ELSE '' END
        || CASE WHEN OLD.kind IS NOT NEW.kind COLLATE BINARY THEN ', kind = ' || quote(OLD.kind) ELSE '' END
        || CASE WHEN OLD.body IS NOT NEW.body COLLATE BINARY THEN ', body = ' || quote(OLD.body) ELSE '' END
        || CASE WHEN OLD.retired IS NOT NEW.retired COLLATE BINARY THEN ', retired = ' || quote(OLD.retired) ELSE '' END
        || ' WHERE id = ' || NEW.id
    FROM recording WHERE id = 1;
END;
CREATE TRIGGER paper_design_delete_inverse AFTER DELETE ON paper_design
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'paper_design',
        'INSERT INTO paper_design (id, name, kind, body, retired) VALUES (' || OLD.id
        || ', ' || quote(OLD.name)
        || ', ' || quote(OLD.kind)
        || ', ' || quote(OLD.body)
        || ', ' || quote(OLD.retired)
        || ')'
    FROM recording WHERE id = 1;
END;

CREATE TRIGGER picture_insert_inverse AFTER INSERT ON picture
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'picture', 'DELETE FROM picture WHERE id = ' || NEW.id FROM recording WHERE id = 1;
END;
CREATE TRIGGER picture_update_inverse AFTER UPDATE ON picture
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'picture', 'UPDATE picture SET id = ' || OLD.id
        || CASE WHEN OLD.name IS NOT NEW.name COLLATE BINARY THEN ', name = ' || quote(OLD.name) ELSE '' END
        || CASE WHEN OLD.png IS NOT NEW.png COLLATE BINARY THEN ', png = ' || quote(OLD.png) ELSE '' END
        || ' WHERE id = ' || NEW.id
    FROM recording WHERE id = 1;
END;
CREATE TRIGGER picture_delete_inverse AFTER DELETE ON picture
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'picture',
        'INSERT INTO picture (id, name, png) VALUES (' || OLD.id
        || ', ' || quote(OLD.name)
        || ', ' || quote(OLD.png)
        || ')'
    FROM recording WHERE id = 1;
END;

CREATE TRIGGER printer_insert_inverse AFTER INSERT ON printer
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'printer', 'DELETE FROM printer WHERE id = ' || NEW.id FROM recording WHERE id = 1;
END;
CREATE TRIGGER printer_update_inverse AFTER UPDATE ON printer
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'printer', 'UPDATE printer SET id = ' || OLD.id
        || CASE WHEN OLD.name IS NOT NEW.name COLLATE BINARY THEN ', name = ' || quote(OLD.name) ELSE '' END
        || CASE WHEN OLD.body IS NOT NEW.body COLLATE BINARY THEN ', body = ' || quote(OLD.body) ELSE '' END
        || ' WHERE id = ' || NEW.id
    FROM recording WHERE id = 1;
END;
CREATE TRIGGER printer_delete_inverse AFTER DELETE ON printer
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'printer',
        'INSERT INTO printer (id, name, body) VALUES (' || OLD.id
        || ', ' || quote(OLD.name)
        || ', ' || quote(OLD.body)
        || ')'
    FROM recording WHERE id = 1;
END;

CREATE TRIGGER sheet_use_insert_inverse AFTER INSERT ON sheet_use
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'sheet_use', 'DELETE FROM sheet_use WHERE id = ' || NEW.id FROM recording WHERE id = 1;
END;
CREATE TRIGGER sheet_use_update_inverse AFTER UPDATE ON sheet_use
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'sheet_use', 'UPDATE sheet_use SET id = ' || OLD.id
        || CASE WHEN OLD.sheet_id IS NOT NEW.sheet_id COLLATE BINARY THEN ', sheet_id = ' || quote(OLD.sheet_id) ELSE '' END
        || CASE WHEN OLD.next_label IS NOT NEW.next_label COLLATE BINARY THEN ', next_label = ' || quote(OLD.next_label) ELSE '' END
        || ' WHERE id = ' || NEW.id
    FROM recording WHERE id = 1;
END;
CREATE TRIGGER sheet_use_delete_inverse AFTER DELETE ON sheet_use
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'sheet_use',
        'INSERT INTO sheet_use (id, sheet_id, next_label) VALUES (' || OLD.id
        || ', ' || quote(OLD.sheet_id)
        || ', ' || quote(OLD.next_label)
        || ')'
    FROM recording WHERE id = 1;
END;

CREATE TRIGGER printed_tag_insert_inverse AFTER INSERT ON printed_tag
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'printed_tag', 'DELETE FROM printed_tag WHERE id = ' || NEW.id FROM recording WHERE id = 1;
END;
CREATE TRIGGER printed_tag_update_inverse AFTER UPDATE ON printed_tag
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'printed_tag', 'UPDATE printed_tag SET id = ' || OLD.id
        || CASE WHEN OLD.design_id IS NOT NEW.design_id COLLATE BINARY THEN ', design_id = ' || quote(OLD.design_id) ELSE '' END
        || CASE WHEN OLD.channel IS NOT NEW.channel COLLATE BINARY THEN ', channel = ' || quote(OLD.channel) ELSE '' END
        || CASE WHEN OLD.piece_id IS NOT NEW.piece_id COLLATE BINARY THEN ', piece_id = ' || quote(OLD.piece_id) ELSE '' END
        || CASE WHEN OLD.ticket_e6 IS NOT NEW.ticket_e6 COLLATE BINARY THEN ', ticket_e6 = ' || quote(OLD.ticket_e6) ELSE '' END
        || CASE WHEN OLD.date IS NOT NEW.date COLLATE BINARY THEN ', date = ' || quote(OLD.date) ELSE '' END
        || CASE WHEN OLD.copies IS NOT NEW.copies COLLATE BINARY THEN ', copies = ' || quote(OLD.copies) ELSE '' END
        || ' WHERE id = ' || NEW.id
    FROM recording WHERE id = 1;
END;
CREATE TRIGGER printed_tag_delete_inverse AFTER DELETE ON printed_tag
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'printed_tag',
        'INSERT INTO printed_tag (id, design_id, channel, piece_id, ticket_e6, date, copies) VALUES (' || OLD.id
        || ', ' || quote(OLD.design_id)
        || ', ' || quote(OLD.channel)
        || ', ' || quote(OLD.piece_id)
        || ', ' || quote(OLD.ticket_e6)
        || ', ' || quote(OLD.date)
        || ', ' || quote(OLD.copies)
        || ')'
    FROM recording WHERE id = 1;
END;

CREATE TRIGGER own_words_insert_inverse AFTER INSERT ON own_words
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'own_words', 'DELETE FROM own_words WHERE id = ' || NEW.id FROM recording WHERE id = 1;
END;
CREATE TRIGGER own_words_update_inverse AFTER UPDATE ON own_words
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'own_words', 'UPDATE own_words SET id = ' || OLD.id
        || CASE WHEN OLD.language IS NOT NEW.language COLLATE BINARY THEN ', language = ' || quote(OLD.language) ELSE '' END
        || CASE WHEN OLD.phrase IS NOT NEW.phrase COLLATE BINARY THEN ', phrase = ' || quote(OLD.phrase) ELSE '' END
        || CASE WHEN OLD.words IS NOT NEW.words COLLATE BINARY THEN ', words = ' || quote(OLD.words) ELSE '' END
        || ' WHERE id = ' || NEW.id
    FROM recording WHERE id = 1;
END;
CREATE TRIGGER own_words_delete_inverse AFTER DELETE ON own_words
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'own_words',
        'INSERT INTO own_words (id, language, phrase, words) VALUES (' || OLD.id
        || ', ' || quote(OLD.language)
        || ', ' || quote(OLD.phrase)
        || ', ' || quote(OLD.words)
        || ')'
    FROM recording WHERE id = 1;
END;

CREATE TRIGGER numbered_paper_insert_inverse AFTER INSERT ON numbered_paper
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'numbered_paper', 'DELETE FROM numbered_paper WHERE id = ' || NEW.id FROM recording WHERE id = 1;
END;
CREATE TRIGGER numbered_paper_update_inverse AFTER UPDATE ON numbered_paper
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'numbered_paper', 'UPDATE numbered_paper SET id = ' || OLD.id
        || CASE WHEN OLD.kind IS NOT NEW.kind COLLATE BINARY THEN ', kind = ' || quote(OLD.kind) ELSE '' END
        || CASE WHEN OLD.number IS NOT NEW.number COLLATE BINARY THEN ', number = ' || quote(OLD.number) ELSE '' END
        || CASE WHEN OLD.date IS NOT NEW.date COLLATE BINARY THEN ', date = ' || quote(OLD.date) ELSE '' END
        || CASE WHEN OLD.body IS NOT NEW.body COLLATE BINARY THEN ', body = ' || quote(OLD.body) ELSE '' END
        || ' WHERE id = ' || NEW.id
    FROM recording WHERE id = 1;
END;
CREATE TRIGGER numbered_paper_delete_inverse AFTER DELETE ON numbered_paper
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'numbered_paper',
        'INSERT INTO numbered_paper (id, kind, number, date, body) VALUES (' || OLD.id
        || ', ' || quote(OLD.kind)
        || ', ' || quote(OLD.number)
        || ', ' || quote(OLD.date)
        || ', ' || quote(OLD.body)
        || ')'
    FROM recording WHERE id = 1;
END;

CREATE TRIGGER trade_number_insert_inverse AFTER INSERT ON trade_number
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'trade_number', 'DELETE FROM trade_number WHERE id = ' || NEW.id FROM recording WHERE id = 1;
END;
CREATE TRIGGER trade_number_update_inverse AFTER UPDATE ON trade_number
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'trade_number', 'UPDATE trade_number SET id = ' || OLD.id
        || CASE WHEN OLD.design_id IS NOT NEW.design_id COLLATE BINARY THEN ', design_id = ' || quote(OLD.design_id) ELSE '' END
        || CASE WHEN OLD.item_id IS NOT NEW.item_id COLLATE BINARY THEN ', item_id = ' || quote(OLD.item_id) ELSE '' END
        || CASE WHEN OLD.number IS NOT NEW.number COLLATE BINARY THEN ', number = ' || quote(OLD.number) ELSE '' END
        || ' WHERE id = ' || NEW.id
    FROM recording WHERE id = 1;
END;
CREATE TRIGGER trade_number_delete_inverse AFTER DELETE ON trade_number
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'trade_number',
        'INSERT INTO trade_number (id, design_id, item_id, number) VALUES (' || OLD.id
        || ', ' || quote(OLD.design_id)
        || ', ' || quote(OLD.item_id)
        || ', ' || quote(OLD.number)
        || ')'
    FROM recording WHERE id = 1;
END;
