// Package api is generated from openapi.yaml: parameters, bodies and routes,
// already in the types of the domain (overlay.yaml says which).
package api

//go:generate cp ../openapi.yaml openapi.yaml
//go:generate go tool oapi-codegen -config server.cfg.yaml openapi.yaml
