-- What the floor wrote down beside the sizes of a shaft: heat numbers, press forces, sizes over pins.
CREATE TABLE work_record (
    order_number BIGINT NOT NULL REFERENCES orders (number),
    position     BIGINT NOT NULL,
    revision     BIGINT NOT NULL,
    at           BIGINT NOT NULL,
    who          TEXT NOT NULL,
    kind         BYTE_TEXT NOT NULL,
    side         BYTE_TEXT NOT NULL,
    written      TEXT NOT NULL,
    amount       BIGINT,
    pin          BIGINT,
    passed       BIGINT,
    PRIMARY KEY (order_number, position)
);
