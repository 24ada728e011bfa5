-- The first book. BYTE_TEXT is a text that sorts by its bytes, BYTES a run of bytes; migration.rs says how each engine
-- spells them. Times are microseconds since 1970 in UTC, lengths are nanometres, flags are 0 or 1.

CREATE TABLE counter (
    name  TEXT PRIMARY KEY,
    value BIGINT NOT NULL
);

-- The log. Nothing in it is ever changed or removed; hash covers the row and the hash before it.
CREATE TABLE event (
    sequence     BIGINT PRIMARY KEY,
    at           BIGINT NOT NULL,
    who          TEXT NOT NULL,
    kind         TEXT NOT NULL,
    order_number BIGINT,
    body         TEXT NOT NULL,
    hash         TEXT NOT NULL
);
CREATE INDEX event_of_order ON event (order_number, sequence);

-- The end of the log. Whoever writes takes this row first, so that the chain has no forks.
CREATE TABLE log_end (
    one      BIGINT PRIMARY KEY,
    sequence BIGINT NOT NULL,
    hash     TEXT NOT NULL
);
INSERT INTO log_end (one, sequence, hash)
VALUES (1, 0, '0000000000000000000000000000000000000000000000000000000000000000');

-- How each order stands now. The truth is in revision and event; this is what lists show.
CREATE TABLE orders (
    number            BIGINT PRIMARY KEY,
    reference         TEXT NOT NULL,
    reference_key     BYTE_TEXT NOT NULL,
    customer          TEXT NOT NULL,
    contact           TEXT NOT NULL,
    vehicle           TEXT NOT NULL,
    axle              TEXT NOT NULL,
    due               TEXT,
    state             BYTE_TEXT NOT NULL,
    state_since       BIGINT NOT NULL,
    revision          BIGINT NOT NULL,
    approved_revision BIGINT,
    overruled         TEXT,
    verdict           BYTE_TEXT NOT NULL,
    fit               DOUBLE PRECISION,
    doubt             TEXT,
    catalog_mark      TEXT NOT NULL,
    reviewed_at       BIGINT NOT NULL,
    placed_at         BIGINT NOT NULL,
    placed_by         TEXT NOT NULL,
    changed_at        BIGINT NOT NULL
);
CREATE UNIQUE INDEX orders_by_reference ON orders (reference_key);
CREATE INDEX orders_by_state ON orders (state, verdict, number);
CREATE INDEX orders_by_change ON orders (state, verdict, changed_at, number);
CREATE INDEX orders_by_time ON orders (changed_at, number);

CREATE TABLE revision (
    order_number BIGINT NOT NULL REFERENCES orders (number),
    revision     BIGINT NOT NULL,
    base         BIGINT NOT NULL,
    at           BIGINT NOT NULL,
    who          TEXT NOT NULL,
    reason       TEXT NOT NULL,
    customer     TEXT NOT NULL,
    contact      TEXT NOT NULL,
    vehicle      TEXT NOT NULL,
    due          TEXT,
    sheet        TEXT NOT NULL,
    PRIMARY KEY (order_number, revision)
);

-- What each revision changed, reading by reading. Who, when and why stand in its revision.
CREATE TABLE reading_change (
    order_number BIGINT NOT NULL,
    revision     BIGINT NOT NULL,
    position     BIGINT NOT NULL,
    measurand    BYTE_TEXT NOT NULL,
    side         BYTE_TEXT NOT NULL,
    was          TEXT,
    becomes      TEXT,
    PRIMARY KEY (order_number, revision, position),
    FOREIGN KEY (order_number, revision) REFERENCES revision (order_number, revision)
);

-- The dimensions that the latest review decided, for the search by dimension.
CREATE TABLE decided_size (
    order_number BIGINT NOT NULL REFERENCES orders (number),
    kind         BYTE_TEXT NOT NULL,
    side         BYTE_TEXT NOT NULL,
    size         BIGINT NOT NULL,
    PRIMARY KEY (order_number, kind, side)
);
CREATE INDEX decided_size_by_size ON decided_size (kind, size, order_number);

-- The words of each order, for the search as one types.
CREATE TABLE search_word (
    word         BYTE_TEXT NOT NULL,
    order_number BIGINT NOT NULL REFERENCES orders (number),
    PRIMARY KEY (word, order_number)
);
CREATE INDEX search_word_of_order ON search_word (order_number, word);

CREATE TABLE message (
    number       BIGINT PRIMARY KEY,
    order_number BIGINT NOT NULL REFERENCES orders (number),
    at           BIGINT NOT NULL,
    who          TEXT NOT NULL,
    direction    TEXT NOT NULL,
    words        TEXT NOT NULL
);
CREATE INDEX message_of_order ON message (order_number, number);

CREATE TABLE photo (
    number       BIGINT PRIMARY KEY,
    order_number BIGINT NOT NULL REFERENCES orders (number),
    at           BIGINT NOT NULL,
    who          TEXT NOT NULL,
    name         TEXT NOT NULL,
    caption      TEXT NOT NULL,
    media_type   TEXT NOT NULL,
    width        BIGINT NOT NULL,
    height       BIGINT NOT NULL,
    size         BIGINT NOT NULL,
    digest       TEXT NOT NULL
);
CREATE INDEX photo_of_order ON photo (order_number, number);

-- Pictures stand apart, so that a list never reads them.
CREATE TABLE photo_picture (
    photo_number BIGINT PRIMARY KEY REFERENCES photo (number),
    picture      BYTES NOT NULL,
    thumbnail    BYTES NOT NULL
);

CREATE TABLE account (
    number     BIGINT PRIMARY KEY,
    name       TEXT NOT NULL,
    name_key   BYTE_TEXT NOT NULL,
    role       TEXT NOT NULL,
    secret     TEXT NOT NULL,
    active     BIGINT NOT NULL,
    created_at BIGINT NOT NULL
);
CREATE UNIQUE INDEX account_by_name ON account (name_key);

-- A session is known by the digest of its token; the token itself is only in the browser.
CREATE TABLE session (
    token_digest   BYTE_TEXT PRIMARY KEY,
    account_number BIGINT NOT NULL REFERENCES account (number),
    created_at     BIGINT NOT NULL,
    seen_at        BIGINT NOT NULL,
    expires_at     BIGINT NOT NULL
);
CREATE INDEX session_of_account ON session (account_number);

CREATE TABLE sign_in (
    number   BIGINT PRIMARY KEY,
    at       BIGINT NOT NULL,
    name     TEXT NOT NULL,
    name_key BYTE_TEXT NOT NULL,
    address  TEXT NOT NULL,
    outcome  TEXT NOT NULL
);
CREATE INDEX sign_in_by_name ON sign_in (name_key, at);

CREATE TABLE draft (
    account_number BIGINT NOT NULL REFERENCES account (number),
    topic          BYTE_TEXT NOT NULL,
    words          TEXT NOT NULL,
    base           BIGINT NOT NULL,
    saved_at       BIGINT NOT NULL,
    PRIMARY KEY (account_number, topic)
);

CREATE TABLE saved_view (
    account_number BIGINT NOT NULL REFERENCES account (number),
    name           BYTE_TEXT NOT NULL,
    body           TEXT NOT NULL,
    PRIMARY KEY (account_number, name)
);
