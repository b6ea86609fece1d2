#include "handover/file_reader.h"

#include <algorithm>
#include <utility>

namespace steep {
namespace {

auto damaged(std::string place = {}) { return refuse(Trouble::Damaged, "take.damaged"_w, {}, std::move(place)); }

/// A change must not claim to have seen itself or what its own lane wrote later.
bool sees_forward(const Change& change) {
  for (const ChangeRef& ref : change.seen)
    if (ref.lane == change.lane && ref.seq >= change.seq) return true;
  return false;
}

}  // namespace

Result<FileReader> FileReader::open(std::string_view bytes, bool verified) {
  TRY_ASSIGN(auto source, LineSource::open(bytes, {}, verified));
  return FileReader(std::move(source), verified);
}

template <class T>
Result<T> FileReader::at_line(Result<T> result) const {
  if (!result) {
    auto problem = result.error();
    const std::string line = std::to_string(source_.line_number());
    // What is wrong inside a line is for the log; a person is told which line, and what to do.
    if (problem.kind == Trouble::Damaged && problem.word != "take.cut"_w && problem.word != "take.photo"_w)
      problem.word = "take.damaged"_w;
    if (problem.word == "take.damaged"_w) problem.values = {line};
    problem.place = problem.place.empty() ? "line " + line : "line " + line + ", " + problem.place;
    return tl::unexpected<Problem>(std::move(problem));
  }
  return result;
}

Result<const FileEvent*> FileReader::next() {
  if (std::exchange(photo_given_, false)) photo_bytes_ = {};
  for (;;) {
    auto line = source_.next();
    if (!line) {
      auto problem = line.error();
      if (problem.word == "take.damaged"_w) problem.values = {std::to_string(source_.line_number() + 1)};
      return tl::unexpected<Problem>(std::move(problem));
    }
    if (!*line) {
      if (!ended_) return refuse(Trouble::Damaged, "take.cut"_w, {}, "end");
      return nullptr;
    }
    if (ended_) return at_line<const FileEvent*>(damaged("after the trailer"));
    const std::string_view text = **line;
    if (begun_ && left_ < 0 && !in_photo_ && frame_line(text) == FrameLine::Trailer) {
      TRY(at_line(end_file(text)));
      continue;
    }
    if (!verified_) {
      sum_.add(text);
      sum_.add("\n");
    }
    if (left_ == 0) {
      TRY(at_line(end_lane(text)));
      continue;
    }
    TRY_ASSIGN(const bool told, at_line(in_photo_ ? in_photo(text) : left_ > 0 ? in_lane(text) : in_frame(text)));
    if (told) return &event_;
  }
}

Result<bool> FileReader::in_frame(std::string_view line) {
  if (!begun_) {
    TRY_ASSIGN(header_, read_header(line));
    begun_ = true;
    if (header_.lanes > kMaxLanes || header_.changes > kMaxLines) return refuse(Trouble::BadInput, "take.too_large"_w);
    event_.what = FileEvent::Header;
    event_.header = header_;
    return true;
  }
  switch (frame_line(line)) {
    case FrameLine::Tip:
    case FrameLine::Base: {
      event_.what = frame_line(line) == FrameLine::Tip ? FileEvent::Tip : FileEvent::Base;
      TRY_ASSIGN(event_.tip, read_tip(line));
      return true;
    }
    case FrameLine::Lane: {
      if (++lanes_ > header_.lanes) return damaged("lanes");
      TRY_ASSIGN(lane_, read_lane(line));
      if (lane_.count > kMaxLines || lane_.from > kMaxInteger - lane_.count) return damaged("count");
      left_ = lane_.count;
      seq_ = lane_.from;
      last_ = lane_.prev;
      event_.what = FileEvent::Lane;
      event_.lane = lane_;
      return true;
    }
    case FrameLine::Photo:
      if (header_.minor < 1) return damaged();
      TRY(begin_photo(line));
      event_.what = FileEvent::PhotoPiece;
      return true;
    case FrameLine::Unknown:
      // A newer minor version may say more between the lanes; its lines are summed and passed over.
      if (header_.minor > kFormatMinor) return false;
      return damaged();
    default: return damaged();
  }
}

Result<bool> FileReader::in_lane(std::string_view line) {
  event_.what = FileEvent::Line;
  TRY(read_change(line, event_.change));
  const Change& change = event_.change;
  if (change.lane != lane_.lane || change.seq != seq_) return damaged("n");
  if (change.seq == 1 && change.part != lane_.part) return damaged("p");
  if (sees_forward(change)) return damaged("s");
  event_.seq = seq_;
  event_.prev = last_;
  event_.hash = chain_next(last_, line);
  event_.body = line;
  last_ = event_.hash;
  ++seq_;
  --left_;
  ++changes_;
  bytes_ += static_cast<std::int64_t>(line.size()) + 1;
  return true;
}

Result<void> FileReader::begin_photo(std::string_view line) {
  if (++photos_ > header_.photos) return damaged("photos");
  TRY_ASSIGN(photo_, read_photo_head(line));
  photo_sum_ = Sha256();
  photo_bytes_.reserve(
      static_cast<std::size_t>(std::min<std::int64_t>(photo_.size, kPhotoPiece)));  // Its size is only claimed.
  in_photo_ = true;
  return {};
}

Result<bool> FileReader::in_photo(std::string_view line) {
  TRY_ASSIGN(const std::string& piece, read_photo_piece(line));
  photo_sum_.add(piece);
  photo_bytes_ += piece;
  const auto came = static_cast<std::int64_t>(photo_bytes_.size());
  event_.what = FileEvent::PhotoPiece;
  if (came < photo_.size) return true;
  const bool fits =
      came == photo_.size && photo_sum_.finish() == photo_.hash && photo_type(photo_bytes_) == photo_.type;
  if (!fits)
    return refuse(Trouble::Damaged, "take.photo"_w,
                  {photo_.name.empty() ? hex(photo_.hash).substr(0, 12) : photo_.name});
  in_photo_ = false;
  photo_given_ = true;
  event_.what = FileEvent::Photo;
  event_.photo = photo_;
  event_.bytes = photo_bytes_;
  return true;
}

Result<void> FileReader::end_lane(std::string_view line) {
  TRY_ASSIGN(const LaneEnd& end, read_end(line));
  if (end.lane != lane_.lane || end.seq != seq_ - 1 || end.hash != last_) return damaged("chain");
  left_ = -1;
  return {};
}

Result<void> FileReader::end_file(std::string_view line) {
  TRY_ASSIGN(const Trailer& trailer, read_trailer(line));
  if (!verified_ && trailer.sum != sum_.finish()) return damaged("sum");
  if (header_.photos != photos_) return damaged("photos");
  if (trailer.changes != changes_ || header_.changes != changes_ || header_.lanes != lanes_ || header_.bytes != bytes_)
    return damaged("counts");
  ended_ = true;
  return {};
}

}  // namespace steep
