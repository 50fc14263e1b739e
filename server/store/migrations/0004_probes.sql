-- +goose Up
-- Written and deleted again to find out whether the file can be written.
CREATE TABLE probes (room BYTEA NOT NULL);
