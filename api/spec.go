package api

import _ "embed"

// Spec is the contract as it was written.
//
//go:embed openapi.yaml
var Spec []byte
