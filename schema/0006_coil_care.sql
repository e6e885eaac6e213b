-- What befell a coil, and what it looks like.
--
-- A condition is something that somebody saw on a coil: that its coating is cracked, that a loop is
-- worn; or, with is_found = 0, that it is good again. Of each coil and kind the last row counts.
-- A photograph is a row that names its picture by the SHA-256 of its bytes; the bytes lie beside,
-- in pieces (a cell is at most a million bytes long), so that the history does not carry them and
-- two rows may show one picture. The seals cover the digest, and `check` holds the bytes against it.
-- A photograph is put away by a later row without a picture, which names it.
-- Rows are only added. is_undone marks one whose act was taken back: it counts nowhere.
-- Old rows: there are none; of coils of before nothing was noted.

CREATE TABLE condition (                 -- somebody saw this on that coil
    rid       INTEGER PRIMARY KEY,
    id        TEXT NOT NULL UNIQUE
              CHECK (length(id) = 26 AND id NOT GLOB '*[^0-9A-HJKMNP-TV-Z]*'),
    coil      INTEGER NOT NULL REFERENCES coil (rid),
    what      TEXT NOT NULL CHECK (what IN ('cracked coating', 'hinge', 'kink', 'worn loop',
                                            'worn through', 'other')),
    is_found  INTEGER NOT NULL CHECK (is_found IN (0, 1)),  -- 0: it is good again
    at_utc    TEXT NOT NULL CHECK (at_utc LIKE '____-__-__T__:__:__.___Z'),
    by_whom   TEXT NOT NULL,
    note      TEXT NOT NULL,
    is_undone INTEGER NOT NULL DEFAULT 0 CHECK (is_undone IN (0, 1))
) STRICT;
CREATE INDEX condition_by_coil ON condition (coil);

CREATE TABLE photograph (                -- that picture is of that coil
    rid       INTEGER PRIMARY KEY,
    id        TEXT NOT NULL UNIQUE
              CHECK (length(id) = 26 AND id NOT GLOB '*[^0-9A-HJKMNP-TV-Z]*'),
    coil      INTEGER NOT NULL REFERENCES coil (rid),
    sha256    TEXT CHECK (length(sha256) = 64 AND sha256 NOT GLOB '*[^0-9a-f]*'),
    format    TEXT CHECK (format IN ('png', 'jpeg')),
    width     INTEGER CHECK (width BETWEEN 1 AND 40000000),   -- in pixels, as it is looked at
    height    INTEGER CHECK (height BETWEEN 1 AND 40000000),
    size      INTEGER CHECK (size BETWEEN 1 AND 8388608),     -- in bytes
    puts_away INTEGER,                   -- instead of a picture: this one is not to be shown
    at_utc    TEXT NOT NULL CHECK (at_utc LIKE '____-__-__T__:__:__.___Z'),
    by_whom   TEXT NOT NULL,
    note      TEXT NOT NULL,
    is_undone INTEGER NOT NULL DEFAULT 0 CHECK (is_undone IN (0, 1)),
    UNIQUE (coil, rid),
    -- What puts a photograph away is of the same coil.
    FOREIGN KEY (coil, puts_away) REFERENCES photograph (coil, rid),
    CHECK ((sha256 IS NULL) = (puts_away IS NOT NULL)),
    CHECK ((sha256 IS NULL) = (format IS NULL)),
    CHECK ((sha256 IS NULL) = (width IS NULL)),
    CHECK ((sha256 IS NULL) = (height IS NULL)),
    CHECK ((sha256 IS NULL) = (size IS NULL))
) STRICT;
CREATE INDEX photograph_by_put_away ON photograph (puts_away) WHERE puts_away IS NOT NULL;

CREATE TABLE picture_piece (             -- the bytes of a picture, in order; no history
    rid      INTEGER PRIMARY KEY,
    sha256   TEXT NOT NULL CHECK (length(sha256) = 64 AND sha256 NOT GLOB '*[^0-9a-f]*'),
    position INTEGER NOT NULL CHECK (position BETWEEN 0 AND 99),
    bytes    BLOB NOT NULL CHECK (length(bytes) BETWEEN 1 AND 500000),
    UNIQUE (sha256, position)
) STRICT;

CREATE VIEW current_condition AS         -- what is wrong with coils now
    SELECT * FROM condition AS c
    WHERE c.is_undone = 0
      AND c.is_found = 1
      AND NOT EXISTS (SELECT 1 FROM condition AS later
                      WHERE later.coil = c.coil AND later.what = c.what AND later.rid > c.rid
                        AND later.is_undone = 0);

CREATE VIEW current_photograph AS        -- neither put away nor undone
    SELECT * FROM photograph AS p
    WHERE p.is_undone = 0
      AND p.sha256 IS NOT NULL
      AND NOT EXISTS (SELECT 1 FROM photograph AS later
                      WHERE later.puts_away = p.rid AND later.is_undone = 0);

-- What is written into the history, and what never changes ---------------------------------------

CREATE TRIGGER condition_made AFTER INSERT ON condition BEGIN
    INSERT INTO change (act, thing_table, thing, field, became)
    VALUES ((SELECT act FROM open_act), 'condition', new.id, 'id', new.id);
END;
CREATE TRIGGER condition_changed AFTER UPDATE ON condition BEGIN
    INSERT INTO change (act, thing_table, thing, field, was, became)
    SELECT (SELECT act FROM open_act), 'condition', new.id, field, was, became
    FROM (SELECT 'is_undone' AS field, old.is_undone AS was, new.is_undone AS became)
    WHERE was IS NOT became;
END;
CREATE TRIGGER condition_stays_1 BEFORE UPDATE OF
    rid, id, coil, what, is_found, at_utc, by_whom, note ON condition
    BEGIN SELECT RAISE (ABORT, 'what was seen is never changed: a later word counts instead'); END;
CREATE TRIGGER condition_stays_2 BEFORE DELETE ON condition
    BEGIN SELECT RAISE (ABORT, 'this is never deleted'); END;

CREATE TRIGGER photograph_made AFTER INSERT ON photograph BEGIN
    INSERT INTO change (act, thing_table, thing, field, became)
    VALUES ((SELECT act FROM open_act), 'photograph', new.id, 'id', new.id);
END;
CREATE TRIGGER photograph_changed AFTER UPDATE ON photograph BEGIN
    INSERT INTO change (act, thing_table, thing, field, was, became)
    SELECT (SELECT act FROM open_act), 'photograph', new.id, field, was, became
    FROM (SELECT 'is_undone' AS field, old.is_undone AS was, new.is_undone AS became)
    WHERE was IS NOT became;
END;
CREATE TRIGGER photograph_stays_1 BEFORE UPDATE OF
    rid, id, coil, sha256, format, width, height, size, puts_away, at_utc, by_whom, note
    ON photograph
    BEGIN SELECT RAISE (ABORT, 'a photograph is never changed: put it away'); END;
CREATE TRIGGER photograph_stays_2 BEFORE DELETE ON photograph
    BEGIN SELECT RAISE (ABORT, 'this is never deleted'); END;

CREATE TRIGGER picture_piece_stays_1 BEFORE UPDATE ON picture_piece
    BEGIN SELECT RAISE (ABORT, 'a picture is never changed'); END;
CREATE TRIGGER picture_piece_stays_2 BEFORE DELETE ON picture_piece
    BEGIN SELECT RAISE (ABORT, 'a picture is never deleted'); END;
