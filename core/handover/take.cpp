#include "handover/take.h"

#include <algorithm>
#include <unordered_map>

#include "base/text.h"
#include "book/written_in_place.h"
#include "handover/plan_differs.h"
#include "handover/rescue.h"
#include "handover/would_wait.h"

namespace steep {

Result<void> may_meet(const Book& book, const FileHeader& header) {
  if (!book.is_started()) return {};
  if (book.is_demo() != header.demo) return refuse(Trouble::Conflict, "take.demo_real"_w, {header.name});
  std::vector<Id> theirs = header.joined;
  theirs.push_back(header.book);
  for (const Id& id : book.joined())
    if (std::find(theirs.begin(), theirs.end(), id) != theirs.end()) return {};
  return refuse(Trouble::Conflict, "take.other_book"_w, {header.name, book.name()});
}

namespace {

/// The photo that a line names: new ones do, and corrections of what the photo is.
std::optional<Hash> photo_named_by(const Change& change) {
  if (change.kind != "photo") return std::nullopt;
  const FieldValue* field = field_of(change, "file.sha256");
  Hash hash{};
  if (!field || field->type != FieldType::ContentHash || !parse_hex(field->text, hash)) return std::nullopt;
  return hash;
}

}  // namespace

/// What the first pass gathers beside the plan.
struct TakeJob::Reading {
  FileReader reader;
  std::unordered_map<Id, bool> records;  // with fresh lines → new here
  struct Range {
    Id lane;
    std::int64_t from, to;
    std::vector<std::uint32_t> tags = {};  // of its lines, of the first kMostTraced
    bool has(std::int64_t seq, std::uint32_t tag) const {
      if (seq < from || seq > to) return false;
      const auto place = static_cast<std::size_t>(seq - from);
      return place >= tags.size() || tags[place] == tag;
    }
  };
  std::vector<Range> ranges;  // what the file itself carries
  struct Unmet {
    std::uint32_t lane, tag;  // the lane by the order in which lanes were met
    std::int64_t seq, line;   // which fresh line saw it
  };
  std::vector<Unmet> unmet;  // seen, and not in the book
  std::unordered_map<Id, std::uint32_t> lane_numbers;
  std::unordered_map<Id, std::int64_t> held;  // last sequence of each lane in the book
  std::int64_t held_here = 0;                 // of the lane being read
  std::string label;                          // of the lane being read
  Comparing comparing;                        // what would differ …
  std::set<Hash> named, fresh_named;          // photos that records of the file name
  std::map<Hash, std::int64_t> photos;        // whose bytes are in the file → size
  bool all_read = false;                      // … compared once all lines are read
  Id last_lane = {};                          // of the fresh line before
  std::int64_t last_seq = 0, last_act = 0;
  bool last_ends = true, torn = false;       // is some act not whole in the file?
  std::optional<FileReader> again = {};      // where something would wait: read once more …
  std::optional<WouldWait> would_wait = {};  // … for what builds on it

  /// Beyond its last sequence nothing of a lane can be in the book: no need to ask.
  std::int64_t held_of(const Id& lane) const {
    const auto found = held.find(lane);
    return found == held.end() ? 0 : found->second;
  }
  void note_unmet(const ChangeRef& ref, std::int64_t line) {
    unmet.push_back({lane_numbers.try_emplace(ref.lane, static_cast<std::uint32_t>(lane_numbers.size())).first->second,
                     ref.tag, ref.seq, line});
  }
  void note_tag(const Hash& hash) {
    if (auto& tags = ranges.back().tags; tags.size() < static_cast<std::size_t>(kMostTraced))
      tags.push_back(tag_of(hash));
  }
};

struct TakeJob::Applying {
  std::optional<WrittenInPlace> in_place;  ///< Outlives the transaction of `take`.
  std::optional<FileReader> reader;        ///< None where the file need not be read again.
  std::unique_ptr<Book::TakeIn> take;
  bool all_added = false, all_folded = false;
};

TakeJob::TakeJob(Book& book, File file, std::string join, PhotoStore* photos)
    : book_(book), photos_(photos), file_(std::move(file)), join_(std::move(join)) {
  if (photo_type(file_.bytes)) {
    auto lines = lines_of_photo(book, file_);
    if (!lines) {
      end(tl::unexpected<Problem>(lines.error()));
      return;
    }
    file_.bytes = std::move(*lines);
  }
  if (file_nature(file_.bytes) == FileNature::BookFile) {
    auto lines = lines_of_book_file(file_.bytes);
    if (!lines) {
      end(tl::unexpected<Problem>(lines.error()));
      return;
    }
    file_.bytes = std::move(lines->text);
    plan_.gaps = std::move(lines->dropped);
    plan_.book_file = true;
  }
  auto reader = FileReader::open(file_.bytes);
  if (!reader) {
    end(tl::unexpected<Problem>(reader.error()));
    return;
  }
  reading_.reset(new Reading{std::move(*reader), {}, {}, {}, {}, {}, 0, {}, {}, {}, {}, {}});
  for (const Lane& lane : book.lanes()) reading_->held[lane.id] = lane.last_seq;
}

TakeJob::~TakeJob() = default;

void TakeJob::end(Result<void> result) {
  reading_.reset();
  applying_.reset();  // Rolls back what was not finished.
  if (result) {
    stage_ = Stage::Done;
  } else {
    stage_ = Stage::Failed;
    problem_ = result.error();
  }
}

void TakeJob::cancel() { end(refuse(Trouble::Conflict, "take.cancelled"_w)); }

void TakeJob::step(std::int64_t milliseconds) {
  const Moment until = book_.now().at + milliseconds;
  Result<void> result;
  if (stage_ == Stage::Reading)
    result = read_some(until);
  else if (stage_ == Stage::Applying)
    result = apply_some(until);
  if (!result) end(std::move(result));
}

namespace {
constexpr int kLinesBetweenLooks = 64;  // Looking at the clock costs more than a line.
}

Result<void> TakeJob::read_some(Moment until) {
  const Snapshot snapshot = book_.snapshot();
  do {
    for (int i = 0; i < kLinesBetweenLooks; ++i) {
      if (reading_->would_wait) {
        TRY_ASSIGN(const bool more, trace_next());
        if (!more) return finish_plan();
        continue;
      }
      if (reading_->all_read) {
        TRY_ASSIGN(const bool& more, reading_->comparing.compare_next(book_, plan_.differs));
        if (more) continue;
        TRY_ASSIGN(const bool traces, begin_tracing());
        if (!traces) return finish_plan();
        continue;
      }
      TRY_ASSIGN(const auto& event, reading_->reader.next());
      reading_->all_read = !event;
      if (!event) continue;
      TRY(note(*event));
      if (event->what == FileEvent::PhotoPiece) break;  // As long as hundreds of other lines.
    }
    share_ = reading_->reader.share();
  } while (book_.now().at < until);
  return {};
}

Result<void> TakeJob::note(const FileEvent& event) {
  switch (event.what) {
    case FileEvent::Header: {
      plan_.header = event.header;
      auto meeting = may_meet(book_, event.header);
      if (meeting || join_.empty() || meeting.error().word != "take.other_book"_w) return meeting;
      if (lower(trim(join_)) != lower(trim(event.header.name)))
        return refuse(Trouble::Ask, "take.join_name"_w, {event.header.name, join_});
      joins_ = true;
      return {};
    }
    case FileEvent::Tip: tips_.push_back(event.tip); return {};
    case FileEvent::Base:
      if (!book_.knows(event.tip)) plan_.gaps.push_back(short_code(event.tip.lane));
      return {};
    case FileEvent::Lane:
      lanes_.push_back(event.lane);
      reading_->ranges.push_back({event.lane.lane, event.lane.from, event.lane.from + event.lane.count - 1});
      reading_->label = event.lane.label;
      reading_->held_here = reading_->held_of(event.lane.lane);
      return {};
    case FileEvent::Line: return note_line(event);
    case FileEvent::Photo: reading_->photos[event.photo.hash] = event.photo.size; return {};
    case FileEvent::PhotoPiece:
    case FileEvent::End: break;
  }
  return {};
}

Result<void> TakeJob::note_line(const FileEvent& event) {
  ++plan_.changes;
  reading_->note_tag(event.hash);
  const auto photo = photo_named_by(event.change);
  if (photo) reading_->named.insert(*photo);
  const Change& change = event.change;
  if (event.seq <= reading_->held_here) {
    const Book::Held held = book_.holds(change.lane, event.seq, event.hash);
    plan_.still_aside += held == Book::Held::Aside;
    if (held != Book::Held::No) return {};
  }
  const std::int64_t line = plan_.fresh++;
  note_act(change);
  if (photo) reading_->fresh_named.insert(*photo);
  plan_.by_person[change.person] += 1;
  plan_.by_day[date_from_day_number((change.wall + change.zone_minutes * kMinute) / kDay)] += 1;
  if (const auto [place, first] = reading_->records.try_emplace(change.record, false); first) {
    place->second = reading_->held.empty() || book_.kind_of(change.record).empty();
    plan_.by_kind[change.kind] += 1;
    ++(place->second ? plan_.records_new : plan_.records_changed);
  }
  if (!reading_->records.find(change.record)->second) {
    if (const FieldValue* struck = field_of(change, "struck"); struck && struck->type == FieldType::Text)
      ++plan_.struck;
    plan_.compared_all = reading_->comparing.add(change, event.hash) && plan_.compared_all;
  } else {
    plan_.compared_all = reading_->comparing.add_new(change, event.hash) && plan_.compared_all;
    note_child(change);
  }
  for (const ChangeRef& ref : change.seen)
    if (ref.seq > reading_->held_of(ref.lane) || !book_.knows(ref)) reading_->note_unmet(ref, line);
  plan_.by_copy[reading_->label] += 1;
  return {};
}

/// Of a parent that is new too nobody here knows a strike.
void TakeJob::note_child(const Change& change) {
  const KindDef* kind = find_kind(change.kind);
  if (kind == nullptr || kind->rule != PartRule::OfParent || reading_->held.empty()) return;
  Id parent;
  if (const FieldValue* field = field_of(change, kind->parent)) parent = Id::parse(field->text).value_or(Id{});
  const auto known = reading_->records.find(parent);
  const bool is_new = known != reading_->records.end() && known->second;
  const bool says = !parent.is_nil() || field_of(change, "struck") || field_of(change, "settled");
  if (says && !is_new) plan_.compared_all = reading_->comparing.add_child(change, parent) && plan_.compared_all;
}

void TakeJob::note_act(const Change& change) {
  Reading& read = *reading_;
  const bool goes_on = read.last_lane == change.lane && read.last_seq + 1 == change.seq &&
                       read.last_act == change.act && !read.last_ends;
  read.torn = read.torn || (!goes_on && (!read.last_ends || change.act != change.seq));
  read.last_lane = change.lane;
  read.last_seq = change.seq;
  read.last_act = change.act;
  read.last_ends = change.act_ends;
}

/// Lines that saw something neither here nor in the file; of a very large one by its number there.
std::int64_t TakeJob::lines_unmet() const {
  std::int64_t last = -1, lines = 0;
  std::vector<std::vector<const Reading::Range*>> ranges(reading_->lane_numbers.size());  // by number
  for (const auto& range : reading_->ranges)
    if (const auto number = reading_->lane_numbers.find(range.lane); number != reading_->lane_numbers.end())
      ranges[number->second].push_back(&range);
  for (const auto& unmet : reading_->unmet) {
    const auto& of = ranges[unmet.lane];
    const bool in_file =
        std::any_of(of.begin(), of.end(), [&](const auto* range) { return range->has(unmet.seq, unmet.tag); });
    if (!in_file && unmet.line != last) {
      last = unmet.line;
      ++lines;
    }
  }
  return lines;
}

/// False: nothing in the file would wait, or too much is fresh to say what builds on what.
Result<bool> TakeJob::begin_tracing() {
  plan_.waiting = lines_unmet();
  if (plan_.fresh == 0 || plan_.fresh > kMostTraced) return false;
  TRY_ASSIGN(const std::vector<HistoryLine>& here, book_.waiting());
  if (plan_.waiting == 0 && here.empty() && !reading_->torn && reading_->last_ends) return false;
  TRY_ASSIGN(reading_->again, FileReader::open(file_.bytes, true));
  reading_->would_wait.emplace(book_);
  return true;
}

Result<bool> TakeJob::trace_next() {
  TRY_ASSIGN(const auto& event, reading_->again->next());
  if (!event) {
    TRY_ASSIGN(plan_.waiting, reading_->would_wait->count());
    return false;
  }
  if (event->what == FileEvent::Line && book_.holds(event->change.lane, event->seq, event->hash) == Book::Held::No)
    reading_->would_wait->add(event->change, event->prev, event->hash);
  return true;
}

Result<void> TakeJob::finish_plan() {
  const auto is_new = [this](const Id& id) {
    const auto record = reading_->records.find(id);
    return record != reading_->records.end() && record->second;
  };
  TRY(reading_->comparing.find_given_up(book_, is_new, plan_.differs));
  TRY(reading_->comparing.find_late(book_, plan_.differs));
  TRY(plan_photos());
  reading_.reset();
  stage_ = Stage::Planned;
  share_ = 1;
  return {};
}

Result<void> TakeJob::plan_photos() {
  TRY_ASSIGN(const auto& here_named, photos_named(book_));
  for (const auto& [hash, size] : reading_->photos) {
    if (here_named.count(hash) == 0 && reading_->named.count(hash) == 0) continue;  // Nobody speaks of it.
    wanted_photos_.insert(hash);
    if (!photos_ || here(hash)) continue;
    ++plan_.photos_coming;
    plan_.photo_bytes += size;
  }
  for (const Hash& hash : reading_->fresh_named)
    plan_.photos_missing += !here(hash) && reading_->photos.count(hash) == 0;
  return {};
}

/// Before the records are committed: a photo is never missing because the power failed between the two. One that no
/// record came to name is harmless.
Result<void> TakeJob::keep_photo(const FileEvent& event) {
  if (!photos_ || wanted_photos_.count(event.photo.hash) == 0) return {};
  photos_kept_ += !here(event.photo.hash);
  return photos_->keep(event.photo.hash, event.bytes);
}

void TakeJob::apply(const Id& person) {
  if (stage_ != Stage::Planned) return;
  share_ = 0;
  stage_ = Stage::Applying;
  if (auto begun = begin_apply(person); !begun) end(std::move(begun));
}

Result<void> TakeJob::begin_apply(const Id& person) {
  Book::Origin origin;
  origin.book = plan_.header.book;
  origin.name = plan_.header.name;
  origin.demo = plan_.header.demo;
  origin.copy = plan_.header.by;
  origin.label = plan_.header.label;
  origin.file_name = file_.name;
  origin.file_hash = sha256(file_.bytes);
  origin.tips = tips_;
  origin.acknowledges = !plan_.header.unsaved;
  applying_.reset(new Applying);
  if (plan_.fresh >= WrittenInPlace::kWorthIt) applying_->in_place.emplace(book_);
  TRY_ASSIGN(applying_->take, book_.begin_take(origin));
  if (joins_ && !may_meet(book_, plan_.header)) {
    TRY_ASSIGN(const Save& save, joining_save(book_, plan_.header));
    TRY(applying_->take->save(save, person));
  }
  // A photo that is here may be damaged: what the file has of it makes it whole.
  if (plan_.nothing_new() && plan_.header.photos == 0) return pass_over_lines();
  TRY_ASSIGN(applying_->reader, FileReader::open(file_.bytes, true));
  return {};
}

/// Lines never go away, so what the plan found here still is: the file need not be read again.
Result<void> TakeJob::pass_over_lines() {
  for (const LaneHead& lane : lanes_) TRY(applying_->take->lane(lane.lane, lane.part, lane.label, lane.copy));
  applying_->take->known_lines(plan_.changes, plan_.still_aside);
  applying_->all_added = true;
  return {};
}

Result<void> TakeJob::apply_some(Moment until) {
  Applying& work = *applying_;
  while (!work.all_added) {
    for (int i = 0; i < kLinesBetweenLooks; ++i) {
      TRY_ASSIGN(const auto& event, work.reader->next());
      if (!event) {
        work.all_added = true;
        break;
      }
      if (event->what == FileEvent::Lane)
        TRY(work.take->lane(event->lane.lane, event->lane.part, event->lane.label, event->lane.copy));
      else if (event->what == FileEvent::Line)
        TRY(work.take->line(event->seq, event->prev, event->hash, event->change, event->body));
      else if (event->what == FileEvent::Photo)
        TRY(keep_photo(*event));
      if (event->what == FileEvent::PhotoPiece || event->what == FileEvent::Photo) break;
    }
    share_ = work.reader->share() / 2;
    if (book_.now().at >= until) return {};
  }
  if (work.all_folded) return finish_apply();
  TRY_ASSIGN(const auto& step, work.take->step(std::max<std::int64_t>(until - book_.now().at, 1)));
  share_ = 0.5 + step.share / 2;
  work.all_folded = step.done;  // Writing all of it to the disk is a step of its own: it may take as long as several.
  return {};
}

Result<void> TakeJob::finish_apply() {
  TRY_ASSIGN(outcome_, applying_->take->finish());
  outcome_.photos = photos_kept_;
  applying_.reset();
  end({});
  return {};
}

Result<Book::TakeIn::Outcome> take_in(Book& book, File file, std::string join, PhotoStore* photos, const Id& person) {
  TakeJob job(book, std::move(file), std::move(join), photos);
  while (job.stage() == TakeJob::Stage::Reading) job.step(1000);
  job.apply(person);
  while (job.stage() == TakeJob::Stage::Applying) job.step(1000);
  if (job.stage() == TakeJob::Stage::Failed) return tl::unexpected<Problem>(job.problem());
  return job.outcome();
}

Result<Save> joining_save(const Book& book, const FileHeader& other) {
  TRY_ASSIGN(const auto& own, book.record(book.id()));
  if (!own) return refuse(Trouble::NotFound, "take.no_house"_w, {book.name()});
  std::vector<std::string> ids;
  for (const Id& id : book.joined())
    if (id != book.id()) ids.push_back(id.text());
  ids.push_back(other.book.text());
  for (const Id& id : other.joined) ids.push_back(id.text());
  Save save;
  save.record = own->id;
  save.kind = own->kind;
  save.part = own->part;
  save.fields = {list_value("joined", std::move(ids))};
  save.seen = own->heads();
  save.why = other.name;
  return save;
}

}  // namespace steep
