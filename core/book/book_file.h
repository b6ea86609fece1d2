#pragma once
/// The lines of a Steepbook SQLite book that came as bytes: rescued from a page, or a safety copy.
///
/// A stranger's database is not trusted: it is opened in memory, read-only in effect, with
/// trusted_schema off; only the columns of `change` and `lane` are read, no view or trigger of it
/// runs, and every body is verified like a line of a handover file.

#include <string>
#include <string_view>
#include <vector>

#include "book/book.h"

namespace steep {

struct BookFile {
  struct Section {
    Lane lane;
    std::vector<Book::Line> lines;  ///< Sound ones, by sequence.
  };
  Id book;
  std::string name;
  bool demo = false;
  std::vector<Id> joined;  ///< Other ids it answers to.
  std::vector<Section> lanes;
  std::vector<std::string> dropped;  ///< Places of rows that did not verify: 'lane … at 812'.
};

/// Trouble::BadInput 'take.foreign' for a database of something else, Damaged when nothing in it can be read.
Result<BookFile> read_book_file(std::string_view bytes);

/// Copies a whole book file into a new one, consistent also while another connection writes, and
/// without write-ahead log. `to` must not exist.
Result<void> copy_book(const std::string& from, const std::string& to);

/// The whole book as the bytes of a file, with what its write-ahead log holds. Nothing is written, no text of it is run.
Result<std::string> bytes_of_book(const std::string& path);

}  // namespace steep
