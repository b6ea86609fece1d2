#pragma once
/// A handover file as lines, read in a stream from its bytes, gzip or plain: never the whole text at once.
///
/// Everything is counted on what really comes out, not on declared sizes, so a bomb is refused
/// within the memory of one buffer.

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>

#include "base/result.h"

namespace steep {

inline constexpr std::int64_t kMaxUnpacked = std::int64_t{2} << 30;  ///< Bytes of text in one file.
inline constexpr std::int64_t kMaxRatio = 200;                       ///< Unpacked to packed, past the first MiB.
inline constexpr std::int64_t kMaxLines = 10'000'000;
inline constexpr std::int64_t kMaxLanes = 10'000;

/// The limits on one file; tests set them lower.
struct FileLimits {
  std::int64_t unpacked = kMaxUnpacked, ratio = kMaxRatio, lines = kMaxLines;
};

/// What the first bytes say that a file is.
enum class FileNature { Empty, Gzip, Lines, Locked, BookFile, WebPage, Foreign };
FileNature file_nature(std::string_view bytes);

class LineSource {
 public:
  /// `bytes` must outlive the source. Trouble::BadInput for anything that is not gzip or lines; Ask 'take.locked' for a file
  /// that has to be unlocked first (lock.h). `verified`: read to its end before; the packing's check value is not made again.
  static Result<LineSource> open(std::string_view bytes, const FileLimits& limits = {}, bool verified = false);
  LineSource(LineSource&&) noexcept;
  LineSource& operator=(LineSource&&) noexcept;
  ~LineSource();

  /// The next line without its newline, valid until the next call; nullopt at a clean end.
  /// Trouble::Damaged, word 'take.cut' when the file stops in the middle of a line or of the
  /// packing, 'take.damaged' when the packing does not unpack, 'take.too_large' past the limits.
  Result<std::optional<std::string_view>> next();
  std::int64_t line_number() const { return lines_; }  ///< Of the line last given, from 1.
  /// Share of the packed bytes consumed, 0…1, for a progress bar.
  double share() const;

 private:
  struct Unpacker;
  LineSource(std::string_view bytes, const FileLimits& limits);
  Result<bool> fill();  ///< More text into the buffer; false at the end.

  std::string_view bytes_;
  FileLimits limits_;
  std::size_t read_ = 0;
  std::unique_ptr<Unpacker> unpacker_;  ///< Empty for plain lines.
  std::string buffer_;
  std::size_t taken_ = 0;
  std::int64_t unpacked_ = 0, lines_ = 0;
};

/// Packs lines as they come. The result is one gzip member; equal input gives equal bytes.
class Packer {
 public:
  Packer();
  ~Packer();
  void add(std::string_view text);
  std::string finish();

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace steep
