//go:build race

package server_test

import "time"

func init() { planTime = time.Minute }
