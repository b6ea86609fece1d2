#pragma once
/// A handover file, line by line and checked: its order, its limits, every change line's grammar, every
/// chain, the trailer's sum. Reading it whole without a problem is its verification.

#include <string>
#include <string_view>

#include "handover/frame.h"
#include "handover/line_source.h"

namespace steep {

/// What the reader met next.
struct FileEvent {
  /// PhotoPiece: more of a photo has come, nothing to do yet. Photo: it is whole, and its hash was checked.
  enum What { Header, Tip, Base, Lane, Line, PhotoPiece, Photo, End } what = End;
  FileHeader header;  ///< Of Header.
  ChangeRef tip;      ///< Of Tip and Base.
  LaneHead lane;      ///< Of Lane.
  // Of Line:
  std::int64_t seq = 0;
  Hash prev{}, hash{};
  Change change;
  std::string_view body;
  // Of Photo:
  PhotoHead photo;
  std::string_view bytes;
};

class FileReader {
 public:
  /// `bytes` must outlive the reader. `verified`: they were read to their end before; their sum is not made again.
  static Result<FileReader> open(std::string_view bytes, bool verified = false);
  /// The next event, until the next call; nullptr after the trailer and the end of the file. Problems as in LineSource
  /// and frame.h, with the line number as place; 'take.cut' when the trailer is missing; Damaged 'take.photo' {its name}
  /// when the bytes of a photo are not those that its hash names, or of another type than it says.
  Result<const FileEvent*> next();
  double share() const { return source_.share(); }

 private:
  FileReader(LineSource source, bool verified) : source_(std::move(source)), verified_(verified) {}
  /// True: event_ is something to tell of.
  Result<bool> in_frame(std::string_view line);
  Result<bool> in_lane(std::string_view line);
  Result<bool> in_photo(std::string_view line);
  Result<void> begin_photo(std::string_view line);
  Result<void> end_lane(std::string_view line);
  Result<void> end_file(std::string_view line);
  template <class T>
  Result<T> at_line(Result<T> result) const;

  LineSource source_;
  FileEvent event_;  ///< Filled anew for each line, so that a line asks for no memory.
  Sha256 sum_;
  bool verified_ = false, begun_ = false, ended_ = false;
  FileHeader header_;
  LaneHead lane_;
  std::int64_t left_ = -1;  ///< Lines still to come in this lane; −1 = outside a lane.
  PhotoHead photo_;
  std::string photo_bytes_;
  Sha256 photo_sum_;
  bool in_photo_ = false, photo_given_ = false;
  std::int64_t photos_ = 0;
  std::int64_t seq_ = 0, lanes_ = 0, changes_ = 0, bytes_ = 0;
  Hash last_{};
};

}  // namespace steep
