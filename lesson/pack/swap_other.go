//go:build !linux

package pack

func swap(fresh, dir string) error { return renameAside(fresh, dir) }
