// Package api is generated from openapi.yaml: parameters, bodies and routes,
// already in the types of the domain (overlay.yaml says which). templates write what
// oapi-codegen would write for each parameter once for all.
package api

//go:generate cp ../openapi.yaml openapi.yaml
//go:generate go tool oapi-codegen -config server.cfg.yaml -templates templates openapi.yaml
