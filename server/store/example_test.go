package store_test

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"saltlock/server/store"
)

// withDB runs f on a database of its own.
func withDB(f func(context.Context, *store.DB)) {
	dir, err := os.MkdirTemp("", "saltlock")
	if err != nil {
		panic(err)
	}
	defer os.RemoveAll(dir)
	ctx := context.Background()
	db, err := store.Open(ctx, filepath.Join(dir, "saltlock.db"))
	if err != nil {
		panic(err)
	}
	defer db.Close()
	f(ctx, db)
}

func ExampleOpen() {
	withDB(func(ctx context.Context, db *store.DB) {
		fmt.Println(db.Ping(ctx))
	})
	// Output: <nil>
}

func ExampleDB_Species() {
	withDB(func(ctx context.Context, db *store.DB) {
		page, err := db.Species(ctx, store.Query{Text: "scats", Limit: 10})
		for _, s := range page.Species {
			fmt.Println(s.ScientificName)
		}
		fmt.Println(page.Total, err)
	})
	// Output:
	// Scatophagus argus
	// Scatophagus tetracanthus
	// Selenotoca multifasciata
	// 3 <nil>
}

// A value comes with its mark and its source.
func ExampleDB_Taxon() {
	withDB(func(ctx context.Context, db *store.DB) {
		scat, err := db.Taxon(ctx, "scatophagus-argus")
		adult, _, _ := scat.StageFor("adult")
		sa := adult.Survived
		fmt.Printf("%g to %g %s, %s [%s] %v\n", sa.Min.Value, sa.Max.Value, sa.Max.Value.Unit(), sa.Mark, sa.Source.Key, err)

		_, err = db.Taxon(ctx, "scatofagus-argus")
		fmt.Println(errors.Is(err, store.ErrNotFound), err)
	})
	// Output:
	// 0 to 35 ppt, published [Chang2005] <nil>
	// true species "scatofagus-argus": spelling, scatophagus-argus
}
