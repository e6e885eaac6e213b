-- What was pruned is gone for good, and the history says so.
--
-- Pruning deletes coils that count no more (retired or undone long ago, and never handed out), with
-- all that hangs on them and their changes in the history. The acts that wrote them stay, and their
-- seals, which later seals are built on, stay as they were; but what is left of such an act fits its
-- seal no longer. So the seal of what is left stands here, and the check holds the act against that.
-- An act is listed, too, if what it did can be undone no longer: it put a photograph away whose
-- picture was pruned.
-- Old rows: nothing was pruned.

CREATE TABLE pruned_act (
    act    INTEGER PRIMARY KEY REFERENCES act (rid),
    sha256 TEXT NOT NULL CHECK (length(sha256) = 64)
) STRICT;
