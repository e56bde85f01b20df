// The script of writing: the first script of every page that `plyline preview` serves. It takes the key from the
// address and will load what writes.
