-- Tokens with which other programs reach the desk. The book holds only their digests; a token itself is shown once.
CREATE TABLE token (
    number       BIGINT PRIMARY KEY,
    name         TEXT NOT NULL,
    name_key     BYTE_TEXT NOT NULL,
    role         TEXT NOT NULL,
    token_digest BYTE_TEXT NOT NULL,
    made_at      BIGINT NOT NULL,
    made_by      TEXT NOT NULL,
    revoked_at   BIGINT,
    used_on      TEXT
);
CREATE UNIQUE INDEX token_by_digest ON token (token_digest);
CREATE INDEX token_by_name ON token (name_key);
