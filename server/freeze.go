package server

import (
	"context"

	"saltlock/server/store"
)

// freeze keeps beside each transfer that release 0.2.0 saved what that release
// told its keeper. It holds only as long as this program plans as that one did.
func (s *Server) freeze(ctx context.Context) error {
	return s.store.Freeze(ctx, func(k *store.Kept) error {
		if err := s.follow(ctx, k); err != nil {
			return err
		}
		k.Told.Version = "0.2.0"
		return nil
	}, func(_ string, err error) { s.log.Error("a transfer cannot be read", "error", err) })
}
