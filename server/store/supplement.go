package store

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"saltlock/chem/tolerance"
)

// readSupplement adds the operator's own species to the built-in ones, each marked as local. The
// file has the columns of species.csv and follows the same rules. It may cite the built-in
// sources, and its own from a file next to it (own.csv, own.sources.csv). It adds species and
// changes none. The digest covers both files.
func readSupplement(path string, builtIn []tolerance.Taxon) (taxa []tolerance.Taxon, digest string, err error) {
	fail := func(err error) ([]tolerance.Taxon, string, error) {
		return nil, "", fmt.Errorf("%w: %w", ErrSupplement, err)
	}
	species, err := os.ReadFile(path)
	if err != nil {
		return fail(err)
	}
	known, err := readSources("sources.csv", bytes.NewReader(sourcesCSV), map[string]source{})
	if err != nil {
		return fail(err)
	}
	beside := strings.TrimSuffix(path, filepath.Ext(path)) + ".sources.csv"
	sources, err := os.ReadFile(beside)
	switch {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		return fail(err)
	default:
		if known, err = readSources(beside, bytes.NewReader(sources), known); err != nil {
			return fail(err)
		}
	}
	own, first, err := readTaxa(path, bytes.NewReader(species), known)
	if err != nil {
		return fail(err)
	}
	for i := range own {
		own[i].Local = true
	}
	taxa = append(slices.Clone(builtIn), own...)
	slices.SortFunc(taxa, byID)
	if err := checkNames(taxa, first); err != nil {
		return fail(err)
	}
	sum := sha256.Sum256(append(species, sources...))
	return taxa, hex.EncodeToString(sum[:])[:6], nil
}
