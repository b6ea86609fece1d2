#include "book/questions.h"

#include <algorithm>
#include <map>

#include "base/sorting.h"
#include "base/text.h"
#include "book/codes.h"
#include "book/given_up.h"
#include "book/joined.h"
#include "book/rows.h"
#include "book/same_bed.h"
#include "book/spelled.h"
#include "book/tables.h"
#include "book/twins.h"

namespace steep {
namespace {

/// The name of a record in a sentence: 'N20', a tagged 'Brew 31', 'Ana Leland'; never empty.
class Names {
 public:
  static Result<Names> read(const Book& book) {
    TRY_ASSIGN(Codes codes, Codes::read(book));
    return Names(book, std::move(codes));
  }
  std::string of(const Id& id) const {
    const std::string kind = book_->kind_of(id);
    if (kind == "brew" || kind == "pass") return code_value_text(kind, codes_.text(id));
    std::string name = record_name(*book_, id);
    if (!name.empty()) return name;
    return kind.empty() ? word_value_text("question", "not-here") : word_value_text("kind", kind);
  }

 private:
  Names(const Book& book, Codes codes) : book_(&book), codes_(std::move(codes)) {}
  const Book* book_;
  Codes codes_;
};

QuestionKind kind_of_review(std::string_view word) {
  if (word == "review.differs") return QuestionKind::Differs;
  if (word == "review.edited_unaware") return QuestionKind::EditedUnaware;
  if (word == "review.late_child") return QuestionKind::LateChild;
  return QuestionKind::Finding;
}

/// A record that stands, as far as the question needs it whether it is another.
struct Alike {
  Id id, farm, same_as;
  std::string key;  ///< Where it lies and what it is called; equal for what may be one.
  std::string not_same;
  std::int64_t made = 0;
};

bool said_two(const Alike& a, const Alike& b) {
  return a.not_same.find(b.id.text()) != std::string::npos || b.not_same.find(a.id.text()) != std::string::npos;
}

/// Farms are compared across parts, all else within its own, beds within their block; beds and blocks of two farms by
/// twins.h. A bed whose time is over may well have given its name to another.
Result<std::vector<Alike>> read_alike(const Book& book, std::string_view kind) {
  const bool bed = kind == "bed";
  Query query = book.db().query("SELECT uid, part, name, not_same, made_ms, same_as, " +
                                std::string(bed ? "block" : "NULL") + " FROM " + wide_name(kind) +
                                " WHERE struck IS NULL" + (bed ? " AND valid_to IS NULL" : "") + " ORDER BY uid");
  std::vector<Alike> all;
  while (query.next()) {
    Alike& one = all.emplace_back();
    one.id = query.id(0);
    const auto part = Part::parse(query.text_view(1));
    one.farm = part ? part->farm : Id{};
    one.key = (kind == "farm" ? "" : query.text(1)) + '/' + (bed ? query.id(6).text() : "") + '/' +
              lower(trim(query.text_view(2)));
    one.not_same = query.text(3);
    one.made = query.integer(4);
    one.same_as = query.id(5);
  }
  TRY(query.done());
  return all;
}

/// Records of one kind with one name on one farm: one thing written down twice?
Result<void> add_same_names(const Book& book, const Names& names, std::vector<OpenQuestion>& questions) {
  static constexpr std::string_view kNamed[] = {"bed", "block",  "farm",         "person", "material",
                                                "rig", "vessel", "water-source", "recipe"};
  for (const std::string_view kind : kNamed) {
    TRY_ASSIGN(const std::vector<Alike>& all, read_alike(book, kind));
    TRY_ASSIGN(const Joined& joined, Joined::read(book, kind));
    const auto ask = [&](const Alike& a, const Alike& b, WordId word, std::vector<std::string> values) {
      questions.push_back({QuestionKind::SameThing,
                           a.id,
                           b.id,
                           std::string(kind),
                           {},
                           a.farm,
                           word,
                           std::move(values),
                           Moment{std::max(a.made, b.made)}});
    };
    std::map<Id, const Alike*> of;
    std::map<std::string_view, std::vector<const Alike*>> by_key;
    for (const Alike& one : all) {
      of[one.id] = &one;
      if (!joined.hides(one.id)) by_key[one.key].push_back(&one);
    }
    for (const auto& [key, alike] : by_key)
      for (std::size_t j = 1; j < alike.size(); ++j)
        for (std::size_t i = 0; i < j; ++i)
          if (!said_two(*alike[i], *alike[j]))
            ask(*alike[j], *alike[i], "question.same-thing"_w, {word_value_text("kind", kind), names.of(alike[j]->id)});
    // One copy joined them, another said that they are two.
    for (const Alike& one : all)
      if (const auto other = of.find(one.same_as); other != of.end() && said_two(one, *other->second))
        if (other->second->same_as != one.id || other->first < one.id)
          ask(one, *other->second, "question.one-and-two"_w, {names.of(one.id), names.of(other->first)});
  }
  return {};
}

/// Struck as the same work as another entry, and nothing tells of that work any more.
Result<void> add_given_up(const Book& book, const Names& names, std::vector<OpenQuestion>& questions) {
  TRY_ASSIGN(const auto& given_up, given_up_for_none(book));
  for (const Id& id : to_ask_about(given_up)) {
    TRY_ASSIGN(const Dose& dose, read_dose(book, id));
    const auto load = read_load(book, dose.load);
    const Moment since = dose.finish ? dose.finish->at : dose.made.at;
    questions.push_back({QuestionKind::GivenUp,
                         id,
                         given_up.at(id).front(),
                         "dose",
                         "struck",
                         farm_of(book, id),
                         "question.given-up"_w,
                         {names.of(dose.bed), moment_value_text(since), names.of(load ? load->pass : dose.load)},
                         since});
  }
  return {};
}

/// Blocks of two starts whose beds bear the same names: one piece of ground? One question for all their beds.
Result<void> add_twin_ground(const Book& book, const Names& names, std::vector<OpenQuestion>& questions) {
  TRY_ASSIGN(const std::vector<TwinBeds>& twins, twin_beds(book));
  std::map<std::pair<Id, Id>, int> blocks;
  for (const TwinBeds& pair : twins)
    if (!pair.said) ++blocks[{std::max(pair.block, pair.other_block), std::min(pair.block, pair.other_block)}];
  for (const auto& [pair, beds] : blocks)
    questions.push_back({QuestionKind::SameThing,
                         pair.first,
                         pair.second,
                         "block",
                         {},
                         farm_of(book, pair.first),
                         "question.same-ground"_w,
                         {names.of(pair.first), std::to_string(beds), names.of(farm_of(book, pair.second)),
                          names.of(farm_of(book, pair.first))},
                         {}});
  return {};
}

Result<void> add_missing_references(const Book& book, std::vector<OpenQuestion>& questions) {
  // Which beds are missing is told by the two indexes alone, from bed to bed; hardly ever is there one.
  std::vector<Id> missing;
  Query beds = book.db().query(
      "WITH RECURSIVE done(bed) AS (SELECT min(what_bed) FROM k_dose UNION ALL "
      "SELECT (SELECT min(what_bed) FROM k_dose WHERE what_bed > done.bed) FROM done WHERE done.bed IS NOT NULL) "
      "SELECT bed FROM done WHERE bed IS NOT NULL AND NOT EXISTS(SELECT 1 FROM k_bed WHERE uid = done.bed) UNION ALL "
      "SELECT NULL WHERE EXISTS(SELECT 1 FROM k_dose WHERE what_bed IS NULL)");
  while (beds.next()) missing.push_back(beds.id(0));
  TRY(beds.done());
  for (const Id& bed : missing) {
    Query query = book.db().query(
        "SELECT uid, COALESCE(when_finish, made_ms), part FROM k_dose WHERE what_bed IS ? AND struck IS NULL");
    // Taken back: no bed at all.
    if (bed.is_nil())
      query.bind_null(1);
    else
      query.bind(1, bed);
    while (query.next()) {
      const auto part = Part::parse(query.text_view(2));
      questions.push_back({QuestionKind::Finding,
                           query.id(0),
                           {},
                           "dose",
                           "what",
                           part ? part->farm : Id{},
                           "finding.bed-not-here"_w,
                           {moment_value_text(Moment{query.integer(1)})},
                           Moment{query.integer(1)}});
    }
    TRY(query.done());
  }
  return {};
}

Result<void> add_same_bed(const Book& book, const Names& names, const std::optional<Id>& farm,
                          std::vector<OpenQuestion>& questions) {
  TRY_ASSIGN(const std::vector<DosePair>& pairs, same_bed_pairs(book, farm));
  for (const DosePair& pair : pairs) {
    const auto second = read_dose(book, pair.second);
    const Moment since = second ? (second->finish ? second->finish->at : second->made.at) : Moment{};
    questions.push_back({QuestionKind::SameBedTwice,
                         pair.first,
                         pair.second,
                         "dose",
                         "what",
                         farm_of(book, pair.first),
                         "question.same-bed-twice"_w,
                         {names.of(pair.bed), moment_value_text(since)},
                         since});
  }
  return {};
}

/// The sentence of one of the fold's own findings, which name the record and what of it; nullopt for those of the checks.
std::optional<WordId> word_of_fold(QuestionKind kind, WordId why) {
  switch (kind) {
    case QuestionKind::Differs: return "question.differs"_w;
    case QuestionKind::EditedUnaware: return "question.edited-unaware"_w;
    case QuestionKind::LateChild: return "question.late-child"_w;
    default: return why.key.starts_with("review.") ? std::optional(why) : std::nullopt;
  }
}

Result<void> add_reviews(const Book& book, const Names& names, std::vector<OpenQuestion>& questions) {
  TRY_ASSIGN(const std::vector<Review>& reviews, book.reviews());
  for (const Review& review : reviews) {
    OpenQuestion question;
    question.kind = kind_of_review(review.why.key);
    question.record = review.record;
    question.record_kind = book.kind_of(review.record);
    question.group = review.group;
    question.farm = farm_of(book, review.record);
    question.word = review.why;
    question.since = review.since;
    if (const auto word = word_of_fold(question.kind, review.why)) {
      question.word = *word;
      question.values = {names.of(review.record), word_value_text("field", review.group)};
    }
    for (const std::string& value : review.values) {
      const auto id = record_in_value(value);
      question.values.push_back(id ? names.of(*id) : value);
    }
    questions.push_back(std::move(question));
  }
  return {};
}

/// One question for each copy whose changes wait for earlier ones.
Result<void> add_waiting(const Book& book, std::vector<OpenQuestion>& questions) {
  TRY_ASSIGN(const std::vector<HistoryLine>& waiting, book.waiting());
  std::map<std::string, std::pair<int, Moment>> by_copy;
  for (const HistoryLine& line : waiting) {
    if (line.aside) continue;
    auto& [count, since] = by_copy[line.copy];
    ++count;
    if (since.ms == 0 || line.change.wall < since.ms) since = Moment{line.change.wall};
  }
  for (const auto& [copy, what] : by_copy)
    questions.push_back({QuestionKind::Waiting,
                         {},
                         {},
                         {},
                         {},
                         {},
                         "question.waiting"_w,
                         {std::to_string(what.first), copy},
                         what.second});
  return {};
}

}  // namespace

Result<std::vector<OpenQuestion>> open_questions(const Book& book, const std::optional<Id>& farm) {
  std::vector<OpenQuestion> questions;
  TRY_ASSIGN(const Names& names, Names::read(book));
  TRY(add_same_bed(book, names, farm, questions));
  TRY(add_reviews(book, names, questions));
  TRY(add_given_up(book, names, questions));
  TRY(add_same_names(book, names, questions));
  TRY(add_twin_ground(book, names, questions));
  TRY(add_missing_references(book, questions));
  TRY(add_waiting(book, questions));
  if (book.is_started() && !book.has_house())
    questions.push_back({QuestionKind::Finding, {}, {}, {}, {}, {}, "question.no-house"_w, {book.name()}, {}});
  if (farm) std::erase_if(questions, [&](const OpenQuestion& q) { return !q.farm.is_nil() && q.farm != *farm; });
  sort_list(questions, [](const OpenQuestion& a, const OpenQuestion& b) {
    if (a.is_to_settle() != b.is_to_settle()) return a.is_to_settle();
    return a.since < b.since;
  });
  return questions;
}

Result<QuestionCounts> question_counts(const Book& book, const std::optional<Id>& farm) {
  TRY_ASSIGN(const std::vector<OpenQuestion>& questions, open_questions(book, farm));
  QuestionCounts counts;
  for (const OpenQuestion& question : questions) {
    counts.same_bed += question.kind == QuestionKind::SameBedTwice;
    if (question.kind == QuestionKind::Waiting) {
      ++counts.waiting;
    } else if (question.is_to_settle()) {
      ++counts.to_settle;
    } else {
      ++counts.to_look_at;
    }
  }
  return counts;
}

}  // namespace steep
