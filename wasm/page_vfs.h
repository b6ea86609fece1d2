#pragma once
/// SQLite's way into a PageStore: the VFS 'pagestore'.
///
/// The file 'book' is the store; any other name is a scratch file that dies with the page (a taken
/// book that is only read, say). A connection to the book must have said, before it writes:
/// `page_size` 4096 (SQLite's default), `journal_mode=MEMORY`, `locking_mode=EXCLUSIVE`,
/// `cache_spill=OFF`. Otherwise its first write fails: with a spilling cache, pages of an open
/// transaction would reach the store, and without a journal a rollback could not take them back.

#include <functional>

#include "base/id.h"
#include "base/moment.h"
#include "base/result.h"

namespace steep {

class PageStore;

constexpr const char* kPageVfs = "pagestore";
constexpr const char* kPageFile = "book";

/// The store that the VFS serves from now on; nullptr ends it. Only while no connection is open.
void serve_pages(PageStore* store, RandomSource random, std::function<Moment()> now);

/// Makes the VFS known to SQLite. On the page, where SQLite has no other, it is so from the start.
Result<void> register_page_vfs();

/// `PRAGMA quick_check` through a connection of its own, before anybody else opens the book.
Result<void> check_pages();

}  // namespace steep
