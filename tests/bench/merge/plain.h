#pragma once
/// What the rows of a merged book cost when they are merely inserted: the measure of merging.

#include <string>

#include "bench/merge/clock.h"

namespace steep::bench {

/// Lays out the tables and indexes of the book at `path` in a new file at `copy`, and inserts the very same
/// rows by prepared statements in one transaction, table by table in order of their keys. Only the
/// inserting and the commit are timed, not the reading. `journal`: 'WAL', as books are written, or 'DELETE', in place, as
/// large takes are. Negative when something fails.
Spent plain_inserts(const std::string& path, const std::string& copy, const std::string& journal);

}  // namespace steep::bench
