#pragma once
/// Writing a handover file: whole lanes of the chosen parts, or only what another copy lacks.

#include <optional>
#include <vector>

#include "book/book.h"
#include "handover/file_writer.h"
#include "handover/lock.h"

namespace steep {

struct GiveRequest {
  Packing packing = Packing::Gzip;
  /// Parts to carry; empty = all. Whole lanes, so their chains are complete.
  std::vector<Part> parts = {};
  /// Only what this copy lacks, by the tips of the last file received from it; unknown tip = whole lane.
  /// Over-giving is always safe; what was merely sent is never taken for received.
  std::optional<Id> lacking_at = {};
  bool unsaved = false;  ///< The book is 'Not saved' just now: the file is marked and acknowledges nothing.
  std::vector<PhotoBytes> photos = {};  ///< To go along: read by read_photos (give_photos.h).
  /// Locks the whole file; its name then says nothing of the book. Text in either packing.
  struct Lock {
    Passphrase passphrase;
    RandomSource random;
  };
  std::optional<Lock> lock = {};
};

struct Given {
  File file;  ///< Name from the book's name and the day, or 'locked' and the day.
  std::int64_t changes = 0;
  std::int64_t lanes = 0;
  std::vector<ChangeRef> tips;  ///< How far it goes, for note_given.
  std::vector<Hash> photos;     ///< Whose bytes are in it, for note_given.
};

/// Writes nothing into the book; call Book::note_given once the file is really out.
Result<Given> give(const Book& book, const GiveRequest& request);

}  // namespace steep
