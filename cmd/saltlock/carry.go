package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"

	"saltlock/server/store"
)

// carry moves saved transfers between databases and files.
func carry(ctx context.Context, command string, args []string, getenv func(string) string, out io.Writer) error {
	set, err := settingsOf(command, args, 1, getenv, out)
	if err != nil {
		return err
	}
	file, from := set.flags.Arg(0), store.Shown(set.database)
	switch command {
	case "backup":
		if err := store.Backup(ctx, set.database, file); err != nil {
			return err
		}
		fmt.Fprintf(out, "Copied %s to %s\n", from, file)
		return nil
	case "export":
		n, err := store.ExportFile(ctx, set.database, file)
		if err == nil {
			fmt.Fprintf(out, "Wrote %d transfers of %s to %s\n", n, from, file)
		}
		return err
	}
	db, err := store.Open(ctx, set.database, set.supplements()...)
	if err != nil {
		return err
	}
	defer db.Close()
	f, err := os.Open(file)
	if err != nil {
		return fmt.Errorf("import: %w", err)
	}
	added, there, err := db.Import(ctx, f)
	if err = errors.Join(err, f.Close()); err != nil {
		return fmt.Errorf("%s: %w", file, err)
	}
	fmt.Fprintf(out, "Added %d transfers to %s; %d were there already\n", added, from, there)
	return nil
}
