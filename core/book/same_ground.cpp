#include "book/same_ground.h"

#include <algorithm>
#include <unordered_set>

#include "base/text.h"
#include "book/places.h"
#include "book/rows.h"
#include "book/twins.h"

namespace steep {
namespace {

/// A bed made of a bed made of a bed …; deeper chains, or more pieces, are a slip in the records.
constexpr int kDeepest = 16;
constexpr std::size_t kMostSources = 1000;

void link(std::unordered_map<Id, std::vector<Id>>& links, const Id& a, const Id& b) {
  links[a].push_back(b);
  links[b].push_back(a);
}

const std::vector<Id>& linked(const std::unordered_map<Id, std::vector<Id>>& links, const Id& bed) {
  static const std::vector<Id> kNone;
  const auto found = links.find(bed);
  return found == links.end() ? kNone : found->second;
}

}  // namespace

namespace {

/// Longer than any bed.
const Length kWholeOf = Length::from_si(100'000);

/// 'ID 0 ft 100 ft', either way round.
std::optional<Stretch> stretch_in(const std::vector<std::string_view>& words) {
  if (words.size() != 5) return std::nullopt;
  const auto from = parse_written(std::string(words[1]) + ' ' + std::string(words[2]));
  const auto to = parse_written(std::string(words[3]) + ' ' + std::string(words[4]));
  if (!from || !to || from->dimension() != Dimension::Length || to->dimension() != Dimension::Length)
    return std::nullopt;
  const Length a = as<Length>(*from), b = as<Length>(*to);
  if (a == b) return std::nullopt;
  return Stretch{std::min(a, b), std::max(a, b)};
}

/// What copies have different answers to, or a line that waits says: until it is settled a bed is each that it may be one with.
Result<std::vector<std::pair<Id, Id>>> joins_in_doubt(const Book& book) {
  std::vector<std::pair<Id, Id>> joins;
  const auto add = [&](const Id& bed, const std::vector<FieldValue>& fields) {
    for (const FieldValue& field : fields)
      if (const auto other = Id::parse(field.text); field.key == "same_as" && other && *other != bed)
        joins.emplace_back(bed, *other);
  };
  Query differing = book.db().query(
      "SELECT r.uid FROM review v JOIN record r ON r.id = v.rec WHERE v.why = 'review.differs' AND v.grp = 'same_as' "
      "AND "
      "r.kind = 'bed'");
  while (differing.next()) {
    TRY_ASSIGN(const std::optional<Record>& bed, book.record(differing.id(0)));
    if (!bed) continue;
    for (const Group& group : bed->groups)
      if (group.key == "same_as")
        for (const Head& head : group.heads) add(bed->id, head.fields);
  }
  TRY(differing.done());
  TRY_ASSIGN(const std::vector<HistoryLine>& waiting, book.waiting());
  for (const HistoryLine& line : waiting)
    if (!line.aside && line.change.kind == "bed") add(line.change.record, line.change.fields);
  return joins;
}

}  // namespace

std::vector<GroundPiece> ground_pieces(const std::vector<std::string>& items) {
  std::vector<GroundPiece> pieces;
  Length at;
  for (const std::string& item : items) {
    const auto words = split(item, ' ');
    const auto id = Id::parse(words.empty() ? std::string_view() : words[0]);
    if (!id) continue;
    const auto stretch = stretch_in(words);
    // Which part of it became which part of the new bed, nobody knows: all of it may lie anywhere there.
    if (!stretch) pieces.push_back({*id, {Length{}, kWholeOf}, Length{}});
    if (!stretch) continue;
    pieces.push_back({*id, *stretch, at});
    at += stretch->length();
  }
  return pieces;
}

Stretch GroundSource::moved(Stretch stretch) const {
  if (!whole) {
    stretch.from = std::max(stretch.from, part.from);
    stretch.to = std::min(stretch.to, part.to);
    if (stretch.to <= stretch.from) return {};
  }
  return {stretch.from + shift, stretch.to + shift};
}

Result<SameGround> SameGround::read(const Book& book) {
  SameGround ground;
  std::unordered_set<Id> gone;  // no longer shown under their own id
  std::vector<std::pair<Id, GroundPiece>> pieces;
  Rows rows(book, "bed", "WHERE struck IS NULL");
  while (rows.next()) {
    RecordFacts facts;
    rows.facts(facts);
    ground.farm_[facts.id] = facts.part.farm;
    if (!facts.same_as.is_nil() && facts.same_as != facts.id) link(ground.joins_, facts.id, facts.same_as);
    if (!facts.same_as.is_nil() || rows.date("valid.to")) gone.insert(facts.id);
    for (const GroundPiece& piece : ground_pieces(rows.list("origin.beds"))) pieces.emplace_back(facts.id, piece);
  }
  TRY(rows.done());
  TRY_ASSIGN(const auto& in_doubt, joins_in_doubt(book));
  for (const auto& [bed, other] : in_doubt) link(ground.joins_, bed, other);
  // A struck bed is none: nothing is joined with it.
  const auto is_gone = [&](const Id& id) { return ground.farm_.count(id) == 0; };
  for (auto& [bed, others] : ground.joins_)
    others.erase(is_gone(bed) ? others.begin() : std::remove_if(others.begin(), others.end(), is_gone), others.end());
  for (const auto& [bed, piece] : pieces) {
    // Of a bed that still lies there under its own name nothing was taken.
    if (gone.count(piece.bed) == 0 || ground.farm_.count(piece.bed) == 0) continue;
    ground.origin_[bed].push_back(piece);
    ground.heirs_[piece.bed].push_back(bed);
  }
  TRY_ASSIGN(const std::vector<TwinBeds> twins, twin_beds(book));
  for (const TwinBeds& pair : twins)
    if (!pair.said) link(ground.offers_, pair.bed, pair.other);
  return ground;
}

std::vector<Id> SameGround::joined_with(const Links& links, const Id& bed) {
  std::vector<Id> all{bed};
  for (std::size_t i = 0; i < all.size(); ++i)
    for (const Id& other : linked(links, all[i]))
      if (std::find(all.begin(), all.end(), other) == all.end()) all.push_back(other);
  return all;
}

std::vector<Id> SameGround::same(const Id& bed) const {
  std::vector<Id> all = joined_with(joins_, bed);
  // An offer goes one step: of three beds the middle one may be either, without the outer two being one.
  const std::size_t own = all.size();
  for (std::size_t i = 0; i < own; ++i)
    for (const Id& offered : linked(offers_, all[i]))
      for (const Id& one : joined_with(joins_, offered))
        if (std::find(all.begin(), all.end(), one) == all.end()) all.push_back(one);
  return all;
}

std::vector<GroundSource> SameGround::sources(const Id& bed) const {
  struct Step {
    GroundSource source;
    int depth;
  };
  std::vector<GroundSource> found;
  std::vector<Step> open;
  for (const Id& one : same(bed)) open.push_back({{one, true, {}, {}}, 0});
  for (std::size_t i = 0; i < open.size() && found.size() < kMostSources; ++i) {
    const Step step = open[i];
    found.push_back(step.source);
    const auto origin = origin_.find(step.source.bed);
    if (step.depth >= kDeepest || origin == origin_.end()) continue;
    for (const GroundPiece& piece : origin->second) {
      Stretch part = piece.from;
      const Length shift = piece.at - piece.from.from;
      if (!step.source.whole) {
        // Only what of the piece lies in the stretch that came along.
        part.from = std::max(part.from, step.source.part.from - shift);
        part.to = std::min(part.to, step.source.part.to - shift);
        if (part.to <= part.from) continue;
      }
      for (const Id& one : joined_with(joins_, piece.bed))
        if (open.size() < kMostSources) open.push_back({{one, false, part, shift + step.source.shift}, step.depth + 1});
    }
  }
  return found;
}

std::vector<Id> SameGround::connected(const Id& bed) const {
  std::vector<Id> all{bed};
  std::unordered_set<Id> met{bed};
  const auto add = [&](const Id& id) {
    if (met.insert(id).second) all.push_back(id);
  };
  for (std::size_t i = 0; i < all.size(); ++i) {
    const Id at = all[i];
    for (const Links* links : {&joins_, &offers_, &heirs_})
      for (const Id& other : linked(*links, at)) add(other);
    if (const auto origin = origin_.find(at); origin != origin_.end())
      for (const GroundPiece& piece : origin->second) add(piece.bed);
  }
  return all;
}

Id SameGround::joined(const Id& bed) const {
  const std::vector<Id> all = joined_with(joins_, bed);
  return *std::min_element(all.begin(), all.end());
}

bool SameGround::is_shared(const Id& bed) const {
  const auto own = farm_.find(bed);
  if (own == farm_.end()) return false;
  for (const Id& one : same(bed))
    if (const auto farm = farm_.find(one); farm != farm_.end() && farm->second != own->second) return true;
  return false;
}

std::vector<Id> SameGround::shared() const {
  std::vector<Id> all;
  for (const Links* links : {&joins_, &offers_})
    for (const auto& [bed, others] : *links)
      if (is_shared(bed)) all.push_back(bed);
  std::sort(all.begin(), all.end());
  all.erase(std::unique(all.begin(), all.end()), all.end());
  return all;
}

std::vector<Id> SameGround::farms_beside(const Id& farm) const {
  std::vector<Id> farms;
  for (const Id& bed : shared()) {
    if (farm_.at(bed) != farm) continue;
    for (const Id& one : same(bed))
      if (const auto of = farm_.find(one); of != farm_.end() && of->second != farm) farms.push_back(of->second);
  }
  std::sort(farms.begin(), farms.end());
  farms.erase(std::unique(farms.begin(), farms.end()), farms.end());
  return farms;
}

}  // namespace steep
