-- A coil that comes to be is one row of the history instead of four.
--
-- A catalogue that takes in a table of a million coils wrote a row of history for each field of each,
-- which was most of the work. From now on the row that says that a coil came to be (field 'id') tells
-- its other fields in columns of its own, told_code and so on; told_code is NULL in all other rows.
-- `field_change` reads the history as it was written before, a row for each field, in order of rid
-- and place; what an act wrote, is sealed and goes to other copies is what stands there. `act_entry` is
-- an act as the history shows it, with how many fields it changed. Both ways of
-- writing stand beside each other for good: acts that come from another copy come field by field.
-- Only coils are told so: nothing else comes in such masses.
-- Old rows: stay as they are.

ALTER TABLE change ADD COLUMN told_code TEXT;
ALTER TABLE change ADD COLUMN told_notes TEXT;
ALTER TABLE change ADD COLUMN told_made_at_utc TEXT;
ALTER TABLE change ADD COLUMN told_retired_at_utc TEXT;

DROP TRIGGER coil_made;
CREATE TRIGGER coil_made AFTER INSERT ON coil BEGIN
    INSERT INTO change (act, thing_table, thing, field, became,
                        told_code, told_notes, told_made_at_utc, told_retired_at_utc)
    VALUES ((SELECT act FROM open_act), 'coil', new.id, 'id', new.id,
            new.code, new.notes, new.made_at_utc, new.retired_at_utc);
END;

CREATE VIEW field_change AS              -- each field of each change in a row of its own
    SELECT rid, 0 AS place, act, thing_table, thing, field, was, became FROM change
    UNION ALL
    SELECT rid, 1, act, thing_table, thing, 'code', NULL, told_code FROM change
    WHERE told_code IS NOT NULL
    UNION ALL
    SELECT rid, 2, act, thing_table, thing, 'notes', NULL, told_notes FROM change
    WHERE told_notes IS NOT NULL
    UNION ALL
    SELECT rid, 3, act, thing_table, thing, 'made_at_utc', NULL, told_made_at_utc FROM change
    WHERE told_made_at_utc IS NOT NULL
    UNION ALL
    SELECT rid, 4, act, thing_table, thing, 'retired_at_utc', NULL, told_retired_at_utc FROM change
    WHERE told_retired_at_utc IS NOT NULL;

CREATE VIEW act_entry AS                 -- each act with how many fields it changed
    SELECT a.*,
           (SELECT count(*) + count(told_code) + count(told_notes) + count(told_made_at_utc)
                   + count(told_retired_at_utc)
            FROM change WHERE change.act = a.rid) AS changes
    FROM act_state AS a;
