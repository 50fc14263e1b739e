// Package saltlock is a client of the Saltlock service, generated from its
// contract.
package saltlock

//go:generate go tool oapi-codegen -config client.cfg.yaml ../../openapi.yaml
