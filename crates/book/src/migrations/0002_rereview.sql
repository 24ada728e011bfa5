-- Runs over all open orders after a change of the catalog, and which verdicts each of them changed.

CREATE TABLE rereview (
    number       BIGINT PRIMARY KEY,
    started_at   BIGINT NOT NULL,
    finished_at  BIGINT,
    who          TEXT NOT NULL,
    catalog_mark TEXT NOT NULL,
    orders       BIGINT NOT NULL,
    done         BIGINT NOT NULL
);

CREATE TABLE rereview_change (
    rereview_number BIGINT NOT NULL REFERENCES rereview (number),
    order_number    BIGINT NOT NULL REFERENCES orders (number),
    at              BIGINT NOT NULL,
    verdict_was     TEXT NOT NULL,
    verdict_becomes TEXT NOT NULL,
    fit_was         DOUBLE PRECISION,
    fit_becomes     DOUBLE PRECISION,
    why             TEXT NOT NULL,
    PRIMARY KEY (rereview_number, order_number)
);

-- What the floor measured on finished shafts.
CREATE TABLE inspected_size (
    order_number BIGINT NOT NULL REFERENCES orders (number),
    position     BIGINT NOT NULL,
    revision     BIGINT NOT NULL,
    at           BIGINT NOT NULL,
    who          TEXT NOT NULL,
    kind         BYTE_TEXT NOT NULL,
    side         BYTE_TEXT NOT NULL,
    written      TEXT NOT NULL,
    size         BIGINT NOT NULL,
    passed       BIGINT NOT NULL,
    PRIMARY KEY (order_number, position)
);
