package store

import (
	"bytes"
	"path"
)

// MaxCache is the greatest size in bytes of what is kept in the cache.
const MaxCache = 64 << 20

func cachePath(name string) string { return path.Join("cache", name) }

// Cached returns what WriteCached kept under name, nil when there is nothing or
// what there is was damaged. What is in the cache can be found again from the
// rest of the store, so deleting it changes nothing. The error is for a name
// that cannot be.
func (s *Store) Cached(name string) ([]byte, error) {
	if err := checkID("name of a cache", name); err != nil {
		return nil, err
	}
	file, err := readIn(s.root, cachePath(name), MaxCache+sumLen)
	if err != nil {
		return nil, nil
	}
	sum, data, ok := bytes.Cut(file, []byte("\n"))
	if !ok || string(sum) != hashOf(data) {
		return nil, nil
	}
	return data, nil
}

// sumLen is the line with the SHA-256 that a file of the cache begins with.
const sumLen = 64 + 1

// WriteCached keeps data under name, in place of what was there. Names are as
// ids: lower case letters, digits and hyphens.
func (s *Store) WriteCached(name string, data []byte) error {
	if err := checkID("name of a cache", name); err != nil {
		return err
	}
	if len(data) > MaxCache {
		return tooLarge("what is to be kept", MaxCache)
	}
	return s.write(cachePath(name), append([]byte(hashOf(data)+"\n"), data...), 0o644)
}
