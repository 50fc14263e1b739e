#!/usr/bin/env bash
# Makes every client anew from openapi.yaml. All but TypeScript need Go alone.
set -euo pipefail
cd "$(dirname "$0")/.."
go generate ./...
npm --prefix clients/typescript ci --no-audit --no-fund --loglevel error
npm --prefix clients/typescript run generate
