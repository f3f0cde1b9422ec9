-- Reclaimed enamel whose cost follows the item it was reclaimed from.

-- The wash-back, and the item whose price of a unit it was taken in at. What was taken in at a stated cost, or at nothing,
-- is not here. A lot that is follows: when that price turns out to have been another, the lot is corrected.
CREATE TABLE reclaimed (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    movement_id INTEGER NOT NULL UNIQUE REFERENCES movement (id),
    item_id INTEGER NOT NULL REFERENCES item (id)
) STRICT;
CREATE INDEX reclaimed_by_item ON reclaimed (item_id, id);

CREATE TRIGGER reclaimed_insert_inverse AFTER INSERT ON reclaimed
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'reclaimed', 'DELETE FROM reclaimed WHERE id = ' || NEW.id FROM recording WHERE id = 1;
END;
CREATE TRIGGER reclaimed_update_inverse AFTER UPDATE ON reclaimed
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'reclaimed', 'UPDATE reclaimed SET id = ' || OLD.id
        || CASE WHEN OLD.movement_id IS NOT NEW.movement_id COLLATE BINARY THEN ', movement_id = ' || quote(OLD.movement_id) ELSE '' END
        || CASE WHEN OLD.item_id IS NOT NEW.item_id COLLATE BINARY THEN ', item_id = ' || quote(OLD.item_id) ELSE '' END
        || ' WHERE id = ' || NEW.id
    FROM recording WHERE id = 1;
END;
CREATE TRIGGER reclaimed_delete_inverse AFTER DELETE ON reclaimed
WHEN (SELECT action_id FROM recording WHERE id = 1) IS NOT NULL BEGIN
    INSERT INTO inverse (action_id, noun, statement)
    SELECT action_id, 'reclaimed',
        'INSERT INTO reclaimed (id, movement_id, item_id) VALUES (' || OLD.id
        || ', ' || quote(OLD.movement_id)
        || ', ' || quote(OLD.item_id)
        || ')'
    FROM recording WHERE id = 1;
END;
