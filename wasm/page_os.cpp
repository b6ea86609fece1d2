/// SQLite without a system of its own (SQLITE_OS_OTHER) asks for these two when it starts: on the
/// page the page store is the only VFS there is.

#include <sqlite3.h>

#include "page_vfs.h"

extern "C" int sqlite3_os_init() { return steep::register_page_vfs() ? SQLITE_OK : SQLITE_ERROR; }
extern "C" int sqlite3_os_end() { return SQLITE_OK; }
