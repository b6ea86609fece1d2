# Options of SQLite, the same version on both sides. Where the two lists differ, the reason is said.
set(SQLITE_OPTIONS
  SQLITE_DQS=0 SQLITE_DEFAULT_MEMSTATUS=0 SQLITE_OMIT_LOAD_EXTENSION SQLITE_OMIT_SHARED_CACHE
  SQLITE_OMIT_DEPRECATED SQLITE_OMIT_UTF16 SQLITE_OMIT_PROGRESS_CALLBACK SQLITE_OMIT_DECLTYPE
  SQLITE_OMIT_GET_TABLE SQLITE_OMIT_TCL_VARIABLE SQLITE_TEMP_STORE=3 SQLITE_THREADSAFE=0)

# The page has no files: its own page store is the only VFS, and WAL needs shared memory. It is
# fetched over a phone's connection, so what only helps debugging is left out.
set(SQLITE_PAGE_OPTIONS
  SQLITE_OS_OTHER=1 SQLITE_OMIT_WAL SQLITE_OMIT_TRACE SQLITE_OMIT_AUTHORIZATION)
