-- The bench: kilns and their days, loads, batches and their pieces, what happened to them, timers, test tiles.
--
-- Numbers and undo are as in the first layout. A `body` is one JSON text; what lists and references need stands beside it.

-- A kiln or torch.
CREATE TABLE kiln (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    name TEXT NOT NULL UNIQUE COLLATE NOCASE CHECK (name <> ''),
    body TEXT NOT NULL,
    retired INTEGER NOT NULL CHECK (retired IN (0, 1))
) STRICT;

-- A day a kiln was hot.
CREATE TABLE kiln_day (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    kiln_id INTEGER NOT NULL REFERENCES kiln (id),
    date TEXT NOT NULL CHECK (length(date) = 10),
    body TEXT NOT NULL,
    UNIQUE (kiln_id, date)
) STRICT;

-- What the studio's rates were before a day: `body` held up to it, that day not included. The newest rates stand in
-- `studio_rates`; a kiln day of the past costs what it cost then.
CREATE TABLE past_rates (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    until TEXT NOT NULL UNIQUE CHECK (length(until) = 10),
    body TEXT NOT NULL
) STRICT;

-- A load: closed and opened are local times to the second; `date` is the day it was closed.
CREATE TABLE firing_load (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    kiln_id INTEGER NOT NULL REFERENCES kiln (id),
    date TEXT NOT NULL CHECK (length(date) = 10),
    closed_at TEXT NOT NULL CHECK (length(closed_at) = 19),
    opened_at TEXT CHECK (length(opened_at) = 19),
    body TEXT NOT NULL,
    photo_id INTEGER REFERENCES photo (id)
) STRICT;
CREATE INDEX firing_load_by_kiln ON firing_load (kiln_id, date, closed_at);
CREATE INDEX firing_load_by_time ON firing_load (date, closed_at, id);
CREATE INDEX firing_load_closed ON firing_load (id) WHERE opened_at IS NULL;
CREATE INDEX firing_load_by_photo ON firing_load (photo_id);

-- A batch; `body` holds the design as it was that day and where its materials are taken from.
CREATE TABLE batch (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    number INTEGER NOT NULL UNIQUE CHECK (number > 0),
    design_id INTEGER NOT NULL REFERENCES design (id),
    name TEXT NOT NULL CHECK (name <> ''),
    code TEXT NOT NULL,
    started TEXT NOT NULL CHECK (length(started) = 10),
    state TEXT NOT NULL CHECK (state IN ('open', 'finished', 'abandoned')),
    body TEXT NOT NULL
) STRICT;
CREATE INDEX batch_by_state ON batch (state, started, id);
CREATE INDEX batch_by_design ON batch (design_id, started, id);

-- A piece; where it is follows from what happened to its batch.
CREATE TABLE piece (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    batch_id INTEGER NOT NULL REFERENCES batch (id),
    place INTEGER NOT NULL CHECK (place > 0),
    number TEXT UNIQUE CHECK (number <> ''),
    finished TEXT CHECK (length(finished) = 10),
    second INTEGER NOT NULL CHECK (second IN (0, 1)),
    note TEXT NOT NULL,
    CHECK ((number IS NULL) = (finished IS NULL))
) STRICT;
CREATE INDEX piece_by_batch ON piece (batch_id, id);
CREATE INDEX piece_by_finish ON piece (finished, id) WHERE finished IS NOT NULL;

-- Which pieces were in a load, in which batch.
CREATE TABLE load_piece (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    load_id INTEGER NOT NULL REFERENCES firing_load (id),
    piece_id INTEGER NOT NULL REFERENCES piece (id),
    batch_id INTEGER NOT NULL REFERENCES batch (id),
    UNIQUE (load_id, piece_id)
) STRICT;
CREATE INDEX load_piece_by_piece ON load_piece (piece_id, load_id);
CREATE INDEX load_piece_by_batch ON load_piece (batch_id, load_id);

-- What happened to a batch, in order; never changed, only undone.
CREATE TABLE bench_entry (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    batch_id INTEGER NOT NULL REFERENCES batch (id),
    date TEXT NOT NULL CHECK (length(date) = 10),
    deed TEXT NOT NULL CHECK (deed <> ''),
    body TEXT NOT NULL,
    load_id INTEGER REFERENCES firing_load (id),
    movement_id INTEGER UNIQUE REFERENCES movement (id),
    other_batch_id INTEGER REFERENCES batch (id)
) STRICT;
CREATE INDEX bench_entry_by_batch ON bench_entry (batch_id, id);
CREATE INDEX bench_entry_by_load ON bench_entry (load_id, id);
CREATE INDEX bench_entry_by_other_batch ON bench_entry (other_batch_id, id);
CREATE INDEX bench_entry_by_deed ON bench_entry (deed, date, id);

-- A timer that runs.
CREATE TABLE timer (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    since TEXT NOT NULL CHECK (length(since) = 19),
    body TEXT NOT NULL
) STRICT;
CREATE TABLE timer_batch (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    timer_id INTEGER NOT NULL REFERENCES timer (id),
    batch_id INTEGER NOT NULL REFERENCES batch (id)
) STRICT;
CREATE INDEX timer_batch_by_timer ON timer_batch (timer_id, id);
CREATE INDEX timer_batch_by_batch ON timer_batch (batch_id, id);

-- A test tile, and its layers from the metal up.
CREATE TABLE tile (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    date TEXT NOT NULL CHECK (length(date) = 10),
    body TEXT NOT NULL,
    load_id INTEGER REFERENCES firing_load (id),
    retired INTEGER NOT NULL CHECK (retired IN (0, 1)),
    photo_id INTEGER REFERENCES photo (id)
) STRICT;
CREATE INDEX tile_by_load ON tile (load_id);
CREATE INDEX tile_by_photo ON tile (photo_id);
CREATE TABLE tile_layer (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    tile_id INTEGER NOT NULL REFERENCES tile (id),
    item_id INTEGER NOT NULL REFERENCES item (id)
) STRICT;
CREATE INDEX tile_layer_by_tile ON tile_layer (tile_id, id);
CREATE INDEX tile_layer_by_item ON tile_layer (item_id, tile_id);

CREATE TRIGGER bench_entry_is_kept_as_written BEFORE UPDATE ON bench_entry BEGIN
    SELECT RAISE (ABORT, 'what happened to a batch is never changed');
END;
CREATE TRIGGER bench_entry_is_kept BEFORE DELETE ON bench_entry
WHEN (SELECT replaying FROM recording WHERE id = 1) = 0 BEGIN
    SELECT RAISE (ABORT, 'what happened to a batch is never deleted');
END;

CREATE TRIGGER kiln_insert_inverse AFTER INSERT ON kiln
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'kiln', 'DELETE FROM kiln WHERE id = ' || NEW.id FROM recording WHERE id = 1;
END;
CREATE TRIGGER kiln_update_inverse AFTER UPDATE ON kiln
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'kiln', 'UPDATE kiln SET id = ' || OLD.id
        || CASE WHEN OLD.name IS NOT NEW.name COLLATE BINARY THEN ', name = ' || quote(OLD.name) ELSE '' END
        || CASE WHEN OLD.body IS NOT NEW.body COLLATE BINARY THEN ', body = ' || quote(OLD.body) ELSE '' END
        || CASE WHEN OLD.retired IS NOT NEW.retired COLLATE BINARY THEN ', retired = ' || quote(OLD.retired) ELSE '' END
        || ' WHERE id = ' || NEW.id
    FROM recording WHERE id = 1;
END;
CREATE TRIGGER kiln_delete_inverse AFTER DELETE ON kiln
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'kiln',
        'INSERT INTO kiln (id, name, body, retired) VALUES (' || OLD.id
        || ', ' || quote(OLD.name)
        || ', ' || quote(OLD.body)
        || ', ' || quote(OLD.retired)
        || ')'
    FROM recording WHERE id = 1;
END;

CREATE TRIGGER kiln_day_insert_inverse AFTER INSERT ON kiln_day
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'kiln_day', 'DELETE FROM kiln_day WHERE id = ' || NEW.id FROM recording WHERE id = 1;
END;
CREATE TRIGGER kiln_day_update_inverse AFTER UPDATE ON kiln_day
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'kiln_day', 'UPDATE kiln_day SET id = ' || OLD.id
        || CASE WHEN OLD.kiln_id IS NOT NEW.kiln_id COLLATE BINARY THEN ', kiln_id = ' || quote(OLD.kiln_id) ELSE '' END
        || CASE WHEN OLD.date IS NOT NEW.date COLLATE BINARY THEN ', date = ' || quote(OLD.date) ELSE '' END
        || CASE WHEN OLD.body IS NOT NEW.body COLLATE BINARY THEN ', body = ' || quote(OLD.body) ELSE '' END
        || ' WHERE id = ' || NEW.id
    FROM recording WHERE id = 1;
END;
CREATE TRIGGER kiln_day_delete_inverse AFTER DELETE ON kiln_day
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'kiln_day',
        'INSERT INTO kiln_day (id, kiln_id, date, body) VALUES (' || OLD.id
        || ', ' || quote(OLD.kiln_id)
        || ', ' || quote(OLD.date)
        || ', ' || quote(OLD.body)
        || ')'
    FROM recording WHERE id = 1;
END;

CREATE TRIGGER firing_load_insert_inverse AFTER INSERT ON firing_load
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'firing_load', 'DELETE FROM firing_load WHERE id = ' || NEW.id FROM recording WHERE id = 1;
END;
CREATE TRIGGER firing_load_update_inverse AFTER UPDATE ON firing_load
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'firing_load', 'UPDATE firing_load SET id = ' || OLD.id
        || CASE WHEN OLD.kiln_id IS NOT NEW.kiln_id COLLATE BINARY THEN ', kiln_id = ' || quote(OLD.kiln_id) ELSE '' END
        || CASE WHEN OLD.date IS NOT NEW.date COLLATE BINARY THEN ', date = ' || quote(OLD.date) ELSE '' END
        || CASE WHEN OLD.closed_at IS NOT NEW.closed_at COLLATE BINARY THEN ', closed_at = ' || quote(OLD.closed_at) ELSE '' END
        || CASE WHEN OLD.opened_at IS NOT NEW.opened_at COLLATE BINARY THEN ', opened_at = ' || quote(OLD.opened_at) ELSE '' END
        || CASE WHEN OLD.body IS NOT NEW.body COLLATE BINARY THEN ', body = ' || quote(OLD.body) ELSE '' END
        || CASE WHEN OLD.photo_id IS NOT NEW.photo_id COLLATE BINARY THEN ', photo_id = ' || quote(OLD.photo_id) ELSE '' END
        || ' WHERE id = ' || NEW.id
    FROM recording WHERE id = 1;
END;
CREATE TRIGGER firing_load_delete_inverse AFTER DELETE ON firing_load
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'firing_load',
        'INSERT INTO firing_load (id, kiln_id, date, closed_at, opened_at, body, photo_id) VALUES (' || OLD.id
        || ', ' || quote(OLD.kiln_id)
        || ', ' || quote(OLD.date)
        || ', ' || quote(OLD.closed_at)
        || ', ' || quote(OLD.opened_at)
        || ', ' || quote(OLD.body)
        || ', ' || quote(OLD.photo_id)
        || ')'
    FROM recording WHERE id = 1;
END;

CREATE TRIGGER batch_insert_inverse AFTER INSERT ON batch
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'batch', 'DELETE FROM batch WHERE id = ' || NEW.id FROM recording WHERE id = 1;
END;
CREATE TRIGGER batch_update_inverse AFTER UPDATE ON batch
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'batch', 'UPDATE batch SET id = ' || OLD.id
        || CASE WHEN OLD.number IS NOT NEW.number COLLATE BINARY THEN ', number = ' || quote(OLD.number) ELSE '' END
        || CASE WHEN OLD.design_id IS NOT NEW.design_id COLLATE BINARY THEN ', design_id = ' || quote(OLD.design_id) ELSE '' END
        || CASE WHEN OLD.name IS NOT NEW.name COLLATE BINARY THEN ', name = ' || quote(OLD.name) ELSE '' END
        || CASE WHEN OLD.code IS NOT NEW.code COLLATE BINARY THEN ', code = ' || quote(OLD.code) ELSE '' END
        || CASE WHEN OLD.started IS NOT NEW.started COLLATE BINARY THEN ', started = ' || quote(OLD.started) ELSE '' END
        || CASE WHEN OLD.state IS NOT NEW.state COLLATE BINARY THEN ', state = ' || quote(OLD.state) ELSE '' END
        || CASE WHEN OLD.body IS NOT NEW.body COLLATE BINARY THEN ', body = ' || quote(OLD.body) ELSE '' END
        || ' WHERE id = ' || NEW.id
    FROM recording WHERE id = 1;
END;
CREATE TRIGGER batch_delete_inverse AFTER DELETE ON batch
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'batch',
        'INSERT INTO batch (id, number, design_id, name, code, started, state, body) VALUES (' || OLD.id
        || ', ' || quote(OLD.number)
        || ', ' || quote(OLD.design_id)
        || ', ' || quote(OLD.name)
        || ', ' || quote(OLD.code)
        || ', ' || quote(OLD.started)
        || ', ' || quote(OLD.state)
        || ', ' || quote(OLD.body)
        || ')'
    FROM recording WHERE id = 1;
END;

CREATE TRIGGER piece_insert_inverse AFTER INSERT ON piece
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'piece', 'DELETE FROM piece WHERE id = ' || NEW.id FROM recording WHERE id = 1;
END;
CREATE TRIGGER piece_update_inverse AFTER UPDATE ON piece
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'piece', 'UPDATE piece SET id = ' || OLD.id
        || CASE WHEN OLD.batch_id IS NOT NEW.batch_id COLLATE BINARY THEN ', batch_id = ' || quote(OLD.batch_id) ELSE '' END
        || CASE WHEN OLD.place IS NOT NEW.place COLLATE BINARY THEN ', place = ' || quote(OLD.place) ELSE '' END
        || CASE WHEN OLD.number IS NOT NEW.number COLLATE BINARY THEN ', number = ' || quote(OLD.number) ELSE '' END
        || CASE WHEN OLD.finished IS NOT NEW.finished COLLATE BINARY THEN ', finished = ' || quote(OLD.finished) ELSE '' END
        || CASE WHEN OLD.second IS NOT NEW.second COLLATE BINARY THEN ', second = ' || quote(OLD.second) ELSE '' END
        || CASE WHEN OLD.note IS NOT NEW.note COLLATE BINARY THEN ', note = ' || quote(OLD.note) ELSE '' END
        || ' WHERE id = ' || NEW.id
    FROM recording WHERE id = 1;
END;
CREATE TRIGGER piece_delete_inverse AFTER DELETE ON piece
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'piece',
        'INSERT INTO piece (id, batch_id, place, number, finished, second, note) VALUES (' || OLD.id
        || ', ' || quote(OLD.batch_id)
        || ', ' || quote(OLD.place)
        || ', ' || quote(OLD.number)
        || ', ' || quote(OLD.finished)
        || ', ' || quote(OLD.second)
        || ', ' || quote(OLD.note)
        || ')'
    FROM recording WHERE id = 1;
END;

CREATE TRIGGER load_piece_insert_inverse AFTER INSERT ON load_piece
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'load_piece', 'DELETE FROM load_piece WHERE id = ' || NEW.id FROM recording WHERE id = 1;
END;
CREATE TRIGGER load_piece_update_inverse AFTER UPDATE ON load_piece
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'load_piece', 'UPDATE load_piece SET id = ' || OLD.id
        || CASE WHEN OLD.load_id IS NOT NEW.load_id COLLATE BINARY THEN ', load_id = ' || quote(OLD.load_id) ELSE '' END
        || CASE WHEN OLD.piece_id IS NOT NEW.piece_id COLLATE BINARY THEN ', piece_id = ' || quote(OLD.piece_id) ELSE '' END
        || CASE WHEN OLD.batch_id IS NOT NEW.batch_id COLLATE BINARY THEN ', batch_id = ' || quote(OLD.batch_id) ELSE '' END
        || ' WHERE id = ' || NEW.id
    FROM recording WHERE id = 1;
END;
CREATE TRIGGER load_piece_delete_inverse AFTER DELETE ON load_piece
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'load_piece',
        'INSERT INTO load_piece (id, load_id, piece_id, batch_id) VALUES (' || OLD.id
        || ', ' || quote(OLD.load_id)
        || ', ' || quote(OLD.piece_id)
        || ', ' || quote(OLD.batch_id)
        || ')'
    FROM recording WHERE id = 1;
END;

CREATE TRIGGER bench_entry_insert_inverse AFTER INSERT ON bench_entry
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'bench_entry', 'DELETE FROM bench_entry WHERE id = ' || NEW.id FROM recording WHERE id = 1;
END;
CREATE TRIGGER bench_entry_delete_inverse AFTER DELETE ON bench_entry
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'bench_entry',
        'INSERT INTO bench_entry (id, batch_id, date, deed, body, load_id, movement_id, other_batch_id) VALUES (' || OLD.id
        || ', ' || quote(OLD.batch_id)
        || ', ' || quote(OLD.date)
        || ', ' || quote(OLD.deed)
        || ', ' || quote(OLD.body)
        || ', ' || quote(OLD.load_id)
        || ', ' || quote(OLD.movement_id)
        || ', ' || quote(OLD.other_batch_id)
        || ')'
    FROM recording WHERE id = 1;
END;

CREATE TRIGGER timer_insert_inverse AFTER INSERT ON timer
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'timer', 'DELETE FROM timer WHERE id = ' || NEW.id FROM recording WHERE id = 1;
END;
CREATE TRIGGER timer_update_inverse AFTER UPDATE ON timer
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'timer', 'UPDATE timer SET id = ' || OLD.id
        || CASE WHEN OLD.since IS NOT NEW.since COLLATE BINARY THEN ', since = ' || quote(OLD.since) ELSE '' END
        || CASE WHEN OLD.body IS NOT NEW.body COLLATE BINARY THEN ', body = ' || quote(OLD.body) ELSE '' END
        || ' WHERE id = ' || NEW.id
    FROM recording WHERE id = 1;
END;
CREATE TRIGGER timer_delete_inverse AFTER DELETE ON timer
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'timer',
        'INSERT INTO timer (id, since, body) VALUES (' || OLD.id
        || ', ' || quote(OLD.since)
        || ', ' || quote(OLD.body)
        || ')'
    FROM recording WHERE id = 1;
END;

CREATE TRIGGER timer_batch_insert_inverse AFTER INSERT ON timer_batch
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'timer_batch', 'DELETE FROM timer_batch WHERE id = ' || NEW.id FROM recording WHERE id = 1;
END;
CREATE TRIGGER timer_batch_update_inverse AFTER UPDATE ON timer_batch
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'timer_batch', 'UPDATE timer_batch SET id = ' || OLD.id
        || CASE WHEN OLD.timer_id IS NOT NEW.timer_id COLLATE BINARY THEN ', timer_id = ' || quote(OLD.timer_id) ELSE '' END
        || CASE WHEN OLD.batch_id IS NOT NEW.batch_id COLLATE BINARY THEN ', batch_id = ' || quote(OLD.batch_id) ELSE '' END
        || ' WHERE id = ' || NEW.id
    FROM recording WHERE id = 1;
END;
CREATE TRIGGER timer_batch_delete_inverse AFTER DELETE ON timer_batch
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'timer_batch',
        'INSERT INTO timer_batch (id, timer_id, batch_id) VALUES (' || OLD.id
        || ', ' || quote(OLD.timer_id)
        || ', ' || quote(OLD.batch_id)
        || ')'
    FROM recording WHERE id = 1;
END;

CREATE TRIGGER tile_insert_inverse AFTER INSERT ON tile
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'tile', 'DELETE FROM tile WHERE id = ' || NEW.id FROM recording WHERE id = 1;
END;
CREATE TRIGGER tile_update_inverse AFTER UPDATE ON tile
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'tile', 'UPDATE tile SET id = ' || OLD.id
        || CASE WHEN OLD.date IS NOT NEW.date COLLATE BINARY THEN ', date = ' || quote(OLD.date) ELSE '' END
        || CASE WHEN OLD.body IS NOT NEW.body COLLATE BINARY THEN ', body = ' || quote(OLD.body) ELSE '' END
        || CASE WHEN OLD.load_id IS NOT NEW.load_id COLLATE BINARY THEN ', load_id = ' || quote(OLD.load_id) ELSE '' END
        || CASE WHEN OLD.retired IS NOT NEW.retired COLLATE BINARY THEN ', retired = ' || quote(OLD.retired) ELSE '' END
        || CASE WHEN OLD.photo_id IS NOT NEW.photo_id COLLATE BINARY THEN ', photo_id = ' || quote(OLD.photo_id) ELSE '' END
        || ' WHERE id = ' || NEW.id
    FROM recording WHERE id = 1;
END;
CREATE TRIGGER tile_delete_inverse AFTER DELETE ON tile
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'tile',
        'INSERT INTO tile (id, date, body, load_id, retired, photo_id) VALUES (' || OLD.id
        || ', ' || quote(OLD.date)
        || ', ' || quote(OLD.body)
        || ', ' || quote(OLD.load_id)
        || ', ' || quote(OLD.retired)
        || ', ' || quote(OLD.photo_id)
        || ')'
    FROM recording WHERE id = 1;
END;

CREATE TRIGGER tile_layer_insert_inverse AFTER INSERT ON tile_layer
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'tile_layer', 'DELETE FROM tile_layer WHERE id = ' || NEW.id FROM recording WHERE id = 1;
END;
CREATE TRIGGER tile_layer_update_inverse AFTER UPDATE ON tile_layer
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'tile_layer', 'UPDATE tile_layer SET id = ' || OLD.id
        || CASE WHEN OLD.tile_id IS NOT NEW.tile_id COLLATE BINARY THEN ', tile_id = ' || quote(OLD.tile_id) ELSE '' END
        || CASE WHEN OLD.item_id IS NOT NEW.item_id COLLATE BINARY THEN ', item_id = ' || quote(OLD.item_id) ELSE '' END
        || ' WHERE id = ' || NEW.id
    FROM recording WHERE id = 1;
END;
CREATE TRIGGER tile_layer_delete_inverse AFTER DELETE ON tile_layer
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'tile_layer',
        'INSERT INTO tile_layer (id, tile_id, item_id) VALUES (' || OLD.id
        || ', ' || quote(OLD.tile_id)
        || ', ' || quote(OLD.item_id)
        || ')'
    FROM recording WHERE id = 1;
END;

CREATE TRIGGER past_rates_insert_inverse AFTER INSERT ON past_rates
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'past_rates', 'DELETE FROM past_rates WHERE id = ' || NEW.id FROM recording WHERE id = 1;
END;
CREATE TRIGGER past_rates_update_inverse AFTER UPDATE ON past_rates
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'past_rates', 'UPDATE past_rates SET id = ' || OLD.id
        || CASE WHEN OLD.until IS NOT NEW.until COLLATE BINARY THEN ', until = ' || quote(OLD.until) ELSE '' END
        || CASE WHEN OLD.body IS NOT NEW.body COLLATE BINARY THEN ', body = ' || quote(OLD.body) ELSE '' END
        || ' WHERE id = ' || NEW.id
    FROM recording WHERE id = 1;
END;
CREATE TRIGGER past_rates_delete_inverse AFTER DELETE ON past_rates
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'past_rates',
        'INSERT INTO past_rates (id, until, body) VALUES (' || OLD.id
        || ', ' || quote(OLD.until)
        || ', ' || quote(OLD.body)
        || ')'
    FROM recording WHERE id = 1;
END;
