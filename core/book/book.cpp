// The book itself: opening, its identity, its settings.
#include "book/book.h"

#include "book/digest.h"
#include "book/store.h"
#include "book/take_checks.h"

namespace steep {
namespace {

constexpr std::string_view kLabelSetting = "copy_label";

Result<void> set_setting(const Store& store, std::string_view key, std::string_view value) {
  auto query = store.db.query("INSERT OR REPLACE INTO setting(key, value) VALUES(?,?)");
  query.bind(1, key).bind(2, value);
  return query.run();
}

}  // namespace

BookNeeds needs_of(Platform& platform) {
  static constexpr std::string_view kAnchor = "lanes";
  BookNeeds needs;
  needs.now = [&platform] { return platform.now(); };
  needs.random = [&platform](std::span<std::uint8_t> bytes) { platform.random(bytes); };
  needs.read_anchor = [&platform] { return platform.setting(kAnchor); };
  needs.write_anchor = [&platform](std::string_view text) { (void)platform.set_setting(kAnchor, text); };
  needs.committed = [&platform] { platform.keep(); };
  needs.checks = begin_checks;
  return needs;
}

Book::Book(std::unique_ptr<Inside> inside) : inside_(std::move(inside)) { inside_->book = this; }
Book::Book(Book&& other) noexcept : inside_(std::move(other.inside_)) {
  if (inside_) inside_->book = this;
}
Book& Book::operator=(Book&& other) noexcept {
  inside_ = std::move(other.inside_);
  if (inside_) inside_->book = this;
  return *this;
}
Book::~Book() = default;

Result<Book> Book::open(const BookPlace& place, BookNeeds needs) {
  TRY_ASSIGN(auto db, Database::open(place.path, place.vfs));
  db.be_patient(needs.patience_ms);
  TRY_ASSIGN(const bool fold_anew, lay_out(db, place.write_ahead));
  Book book(std::make_unique<Inside>(std::move(db), std::move(needs)));
  TRY(book.inside_->load());
  if (fold_anew) TRY(book.rebuild());
  if (anchor_differs(*book.inside_)) {
    // Another program may just be minting: where only one writes, lanes and anchor belong together.
    TRY_ASSIGN(auto scope, WriteScope::begin(*book.inside_));
    if (const auto befell = anchor_differs(*book.inside_)) {
      TRY(retire_lanes(*book.inside_));
      // The demo is made by one program and opened by another; nobody has lost anything of it.
      if (!book.is_demo()) TRY(note_befell(*book.inside_, *befell));
      TRY(scope.commit());
    }
  }
  return book;
}

bool Book::is_started() const { return !inside_->id.is_nil(); }
bool Book::has_house() const {
  auto query = inside_->db.query("SELECT 1 FROM k_book WHERE uid=?");
  query.bind(1, inside_->id);
  return query.next();
}
Id Book::id() const { return inside_->id; }
std::vector<Id> Book::joined() const { return inside_->joined; }
std::string Book::name() const { return inside_->name; }
bool Book::is_demo() const { return inside_->demo; }
std::uint64_t Book::counter() const { return inside_->counter; }
Stamp Book::now() const { return inside_->needs.now(); }
Id Book::new_record() const { return make_record_id(inside_->needs.now().at, inside_->needs.random); }
const Database& Book::db() const { return inside_->db; }
Snapshot Book::snapshot() const { return Snapshot(inside_->db); }
std::shared_ptr<const void> Book::kept(std::string_view name) const {
  for (const Store::Kept& one : inside_->kept)
    if (one.name == name) return one.what;
  return nullptr;
}
void Book::keep(std::string_view name, std::span<const std::string_view> kinds,
                std::shared_ptr<const void> what) const {
  if (inside_->db.writing()) return;  // It may be rolled back.
  std::erase_if(inside_->kept, [&](const Store::Kept& one) { return one.name == name; });
  inside_->kept.push_back({name, kinds, std::move(what)});
}
Hash Book::digest() const { return inside_->digest; }
std::string Book::digest_code() const { return steep::digest_code(inside_->digest); }

std::string Book::copy_label() const {
  auto query = inside_->db.query("SELECT value FROM setting WHERE key=?");
  query.bind(1, kLabelSetting);
  return query.next() ? query.text(0) : std::string();
}

Result<void> Book::set_copy_label(std::string_view label) {
  TRY_ASSIGN(auto scope, WriteScope::begin(*inside_));
  TRY(set_setting(*inside_, kLabelSetting, label));
  return scope.commit();
}

Id Book::copy() const {
  for (const auto& [id, lane] : inside_->lanes)
    if (lane.mine && lane.part == Part{}) return id;
  return {};
}

std::vector<Lane> Book::lanes() const {
  std::vector<Lane> lanes;
  const std::string label = copy_label();
  for (const auto& [id, row] : inside_->lanes)
    lanes.push_back(
        {row.row, id, row.part, row.mine ? label : row.label, row.copy, row.mine, row.ours, row.last_seq, row.tip});
  return lanes;
}

Result<void> Book::each_line(const Id& lane, std::int64_t from, const std::function<bool(const Line&)>& then) const {
  const auto found = inside_->lanes.find(lane);
  if (found == inside_->lanes.end()) return {};
  auto query = inside_->db.query("SELECT seq, prev, hash, body FROM change WHERE lane=? AND seq>=? ORDER BY seq, hash");
  query.bind(1, found->second.row).bind(2, from);
  Line line;
  while (query.next()) {
    line.seq = query.integer(0);
    line.prev = query.hash(1);
    line.hash = query.hash(2);
    line.body = query.text_view(3);
    if (!then(line)) return {};
  }
  return query.done();
}

Book::Held Book::holds(const Id& lane, std::int64_t seq, const Hash& hash) const {
  const auto found = inside_->lanes.find(lane);
  if (found == inside_->lanes.end() || seq > found->second.last_seq) return Held::No;
  const auto row = line_row(*inside_, found->second.row, seq, hash);
  if (!row || *row == 0) return Held::No;
  const auto aside = is_aside(*inside_, *row);
  return aside && *aside ? Held::Aside : Held::Yes;
}

bool Book::knows(const ChangeRef& ref) const {
  const auto there = presence(*inside_, ref);
  return there && *there != Presence::Absent;
}

std::int64_t Book::change_count() const {
  auto query = inside_->db.query("SELECT count(*) FROM change");
  return query.next() ? query.integer(0) : 0;
}

bool Book::changed_elsewhere() {
  if (inside_->taking) return false;
  auto query = inside_->db.query("PRAGMA data_version");
  if (!query.next() || query.integer(0) == inside_->data_version) return false;
  if (!inside_->load()) return false;
  ++inside_->counter;
  return true;
}

Result<void> Book::take_new_lanes() {
  TRY_ASSIGN(auto scope, WriteScope::begin(*inside_));
  TRY(retire_lanes(*inside_));
  return scope.commit();
}

}  // namespace steep
