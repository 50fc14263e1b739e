-- +goose Up
-- Saved transfers: one JSON value each, request, legs and log together, since
-- they are read and changed together. Times are seconds since 1970, UTC.
CREATE TABLE transfers (
	id         TEXT    NOT NULL PRIMARY KEY,
	key_hash   BYTEA   NOT NULL, -- SHA-256 of the secret key
	salt       BYTEA   NOT NULL, -- from which, with the idempotency key, the secret key is made
	retry_hash BYTEA   UNIQUE,   -- SHA-256 of the idempotency key; NULL without one
	body_hash  BYTEA   NOT NULL, -- SHA-256 of the request as it was sent
	created_at BIGINT  NOT NULL,
	expires_at BIGINT  NOT NULL,
	version    BIGINT  NOT NULL,
	value      TEXT    NOT NULL
);

CREATE INDEX transfers_by_expiry ON transfers (expires_at);
