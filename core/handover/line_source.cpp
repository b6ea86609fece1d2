#include "handover/line_source.h"

#include <zlib.h>
#include <cassert>

#include "base/text.h"
#include "book/change.h"
#include "handover/lock.h"

namespace steep {
namespace {

constexpr std::size_t kPiece = 64 * 1024;
constexpr int kGzipWindow = 15 + 16;  // zlib: window of 32 KiB, gzip wrapping

std::string line_place(std::int64_t line) { return "line " + std::to_string(line); }

}  // namespace

FileNature file_nature(std::string_view bytes) {
  using namespace std::string_view_literals;
  if (bytes.empty()) return FileNature::Empty;
  if (bytes.starts_with("\x1f\x8b"sv)) return FileNature::Gzip;
  if (bytes.starts_with("SQLite format 3\0"sv)) return FileNature::BookFile;
  if (is_locked(bytes)) return FileNature::Locked;
  if (bytes.starts_with("{\"format\":"sv)) return FileNature::Lines;
  const auto start = trim(bytes.substr(0, 512));
  if (start.starts_with('<')) return FileNature::WebPage;
  return start.empty() ? FileNature::Empty : FileNature::Foreign;
}

struct LineSource::Unpacker {
  z_stream stream{};
  bool ended = false;
  bool ready = inflateInit2(&stream, kGzipWindow) == Z_OK;
  ~Unpacker() { inflateEnd(&stream); }
};

LineSource::LineSource(std::string_view bytes, const FileLimits& limits) : bytes_(bytes), limits_(limits) {}
LineSource::LineSource(LineSource&&) noexcept = default;
LineSource& LineSource::operator=(LineSource&&) noexcept = default;
LineSource::~LineSource() = default;

Result<LineSource> LineSource::open(std::string_view bytes, const FileLimits& limits, bool verified) {
  LineSource source(bytes, limits);
  switch (file_nature(bytes)) {
    case FileNature::Lines: return source;
    case FileNature::Gzip:
      source.unpacker_ = std::make_unique<Unpacker>();
      if (!source.unpacker_->ready) return refuse(Trouble::System, "take.memory"_w);
      if (verified) inflateValidate(&source.unpacker_->stream, 0);
      return source;
    case FileNature::Empty: return refuse(Trouble::BadInput, "take.empty"_w);
    case FileNature::WebPage: return refuse(Trouble::BadInput, "take.web_page"_w);
    case FileNature::Locked: return refuse(Trouble::Ask, "take.locked"_w);
    case FileNature::BookFile:
    case FileNature::Foreign: break;
  }
  return refuse(Trouble::BadInput, "take.foreign"_w);
}

Result<bool> LineSource::fill() {
  buffer_.erase(0, taken_);
  taken_ = 0;
  if (!unpacker_) {
    const auto piece = bytes_.substr(read_, kPiece);
    read_ += piece.size();
    unpacked_ += static_cast<std::int64_t>(piece.size());
    if (unpacked_ > limits_.unpacked) return refuse(Trouble::BadInput, "take.too_large"_w, {}, line_place(lines_ + 1));
    buffer_.append(piece);
    return !piece.empty();
  }
  auto& stream = unpacker_->stream;
  if (unpacker_->ended) {
    if (read_ != bytes_.size()) return refuse(Trouble::Damaged, "take.damaged"_w, {}, "after the end");
    return false;
  }
  const std::size_t before = buffer_.size();
  buffer_.resize(before + kPiece);
  const auto input = bytes_.substr(read_, kPiece);
  stream.next_in = reinterpret_cast<Bytef*>(const_cast<char*>(input.data()));
  stream.avail_in = static_cast<uInt>(input.size());
  stream.next_out = reinterpret_cast<Bytef*>(buffer_.data() + before);
  stream.avail_out = kPiece;
  const int code = inflate(&stream, Z_NO_FLUSH);
  read_ += input.size() - stream.avail_in;
  const std::size_t came = kPiece - stream.avail_out;
  buffer_.resize(before + came);
  unpacked_ += static_cast<std::int64_t>(came);
  if (code == Z_STREAM_END)
    unpacker_->ended = true;
  else if (code == Z_BUF_ERROR || (code == Z_OK && came == 0 && input.empty()))
    return refuse(Trouble::Damaged, "take.cut"_w, {}, line_place(lines_ + 1));
  else if (code != Z_OK)
    return refuse(Trouble::Damaged, "take.damaged"_w, {}, line_place(lines_ + 1));
  const auto packed = static_cast<std::int64_t>(read_);
  if (unpacked_ > limits_.unpacked || (unpacked_ > (1 << 20) && unpacked_ > packed * limits_.ratio))
    return refuse(Trouble::BadInput, "take.too_large"_w, {}, line_place(lines_ + 1));
  return true;
}

Result<std::optional<std::string_view>> LineSource::next() {
  std::size_t searched = taken_;
  for (;;) {
    if (const auto end = buffer_.find('\n', searched); end != std::string::npos) {
      const auto line = std::string_view(buffer_).substr(taken_, end - taken_);
      taken_ = end + 1;
      if (line.size() > kMaxLine) return refuse(Trouble::BadInput, "take.too_large"_w, {}, line_place(lines_ + 1));
      if (++lines_ > limits_.lines) return refuse(Trouble::BadInput, "take.too_large"_w, {}, line_place(lines_));
      return line;
    }
    if (buffer_.size() - taken_ > kMaxLine)
      return refuse(Trouble::BadInput, "take.too_large"_w, {}, line_place(lines_ + 1));
    const std::size_t open = buffer_.size() - taken_;
    TRY_ASSIGN(const bool more, fill());
    searched = open;
    if (!more) {
      if (open != 0) return refuse(Trouble::Damaged, "take.cut"_w, {}, line_place(lines_ + 1));
      return std::nullopt;
    }
  }
}

double LineSource::share() const {
  return bytes_.empty() ? 1 : static_cast<double>(read_) / static_cast<double>(bytes_.size());
}

struct Packer::State {
  z_stream stream{};
  std::string packed;
  void run(int flush) {
    char piece[kPiece];
    do {
      stream.next_out = reinterpret_cast<Bytef*>(piece);
      stream.avail_out = sizeof piece;
      deflate(&stream, flush);
      packed.append(piece, sizeof piece - stream.avail_out);
    } while (stream.avail_out == 0);
  }
};

Packer::Packer() : state_(std::make_unique<State>()) {
  // Fails only without memory, which ends the program anyway.
  [[maybe_unused]] const int code = deflateInit2(&state_->stream, 6, Z_DEFLATED, kGzipWindow, 8, Z_DEFAULT_STRATEGY);
  assert(code == Z_OK);
}
Packer::~Packer() { deflateEnd(&state_->stream); }

void Packer::add(std::string_view text) {
  state_->stream.next_in = reinterpret_cast<Bytef*>(const_cast<char*>(text.data()));
  state_->stream.avail_in = static_cast<uInt>(text.size());
  state_->run(Z_NO_FLUSH);
}

std::string Packer::finish() {
  state_->stream.avail_in = 0;
  state_->run(Z_FINISH);
  return std::move(state_->packed);
}

}  // namespace steep
