#pragma once
/// A random history over two to six copies that meet through real handover files: edits, stale forms, acts,
/// strikes with children, wrong clocks, a newer program's lines, two starts joined, storage cloned, files
/// that are whole, of some parts, only what the other lacks, cut, damaged, repeated, late or lost, and set
/// aside. In the end all copies must hold one journal and one state: the one that the model computes.

#include <map>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "handover/give.h"
#include "handover/take.h"
#include "tests/unit/book_copies.h"
#include "tests/unit/hand_file.h"
#include "tests/unit/model.h"

namespace steep::test {

/// How wrong clocks are. Choices of a history never depend on clocks, so that three scripts give one structure.
enum class Clocks { Fair, Jumping, Mad };

class History {
 public:
  History(std::uint64_t seed, Clocks clocks);
  void run();

  /// (record, group) → numbers of the writes at its heads, and whether they differ: what no clock may change.
  std::map<std::string, std::string> structure() const;
  std::size_t changes() const { return lines_.size(); }

  /// What happened, so that a test can say that it did.
  struct Counts {
    std::size_t files = 0, deltas = 0, of_parts = 0, cut = 0, damaged = 0, forks = 0, joins = 0, newer = 0,
                acts_struck = 0, waiting = 0;
    Counts& operator+=(const Counts& other);
  };
  const Counts& counts() const { return counts_; }

 private:
  // ---- Writing (history_writes.cpp) ----
  void step();
  void jump(Copy& copy);
  void put(std::size_t i, const std::vector<Save>& saves);
  void create(std::size_t i);
  void change_one(std::size_t i, bool stale);
  void open_form(std::size_t i);
  bool strike_in_dispute(const Book& book, const Record& record) const;
  void strike_or_restore(std::size_t i);
  void write_newer(std::size_t i);
  std::optional<Record> some_record(std::size_t i);
  std::vector<FieldValue> some_fields(const std::string& kind);
  std::string word() { return "name " + std::to_string(chance_.below(4)); }
  std::string amount();

  // ---- Files and copies (history_files.cpp) ----
  std::size_t other(std::size_t i);
  void start_book(std::size_t i, const std::string& name);
  File pack(const Book& from, const std::vector<Section>& sections);
  /// A file whose lines are these. Takes it, or joins first where it is another start's.
  void deliver(std::size_t from, std::size_t to, const File& file, const std::set<Hash>& lines);
  void deliver_all(std::size_t from, std::size_t to);
  void deliver_parts(std::size_t from, std::size_t to);
  void deliver_delta(std::size_t from, std::size_t to);
  void deliver_some(std::size_t from, std::size_t to);
  void damage(std::size_t to, const File& file);
  void clone(std::size_t i);
  void aside(std::size_t i);
  void add_copy(std::unique_ptr<Copy> copy);
  std::vector<Section> sections_of(const Book& book) const;
  /// Remembers every line that this copy wrote, as the truth of what exists.
  void note_lines(std::size_t i);
  void note_line(const Id& lane, const Part& part, const Book::Line& line);

  // ---- Checking (history_checks.cpp) ----
  std::set<Hash> journal_of(const Book& book) const;
  std::set<Hash> aside_of(const Book& book) const;
  void check_state(Book& book) const;
  void check_group(const Group& group, const ModelGroup& wanted) const;
  void settle();
  void check_shuffled(const Hash& digest);
  void check_one_part();

  Chance chance_, clock_chance_;
  Clocks clocks_;
  std::vector<std::unique_ptr<Copy>> copies_;
  std::vector<std::vector<Save>> forms_;  // Opened and not yet saved, per copy.
  std::vector<Id> farms_;
  std::vector<Id> records_;  // In the order of their creation.
  std::set<Id> books_;       // Their own records.
  std::set<Id> shared_ids_;  // Copy ids that two copies went by: what one acknowledged the other may lack.
  HandLane newer_{99};       // A program of a later version, without a book of ours.
  Journal lines_;
  std::map<Hash, std::string> bodies_;
  std::map<Hash, std::size_t> numbers_;
  std::map<Id, Part> parts_;
  std::map<std::pair<std::size_t, Id>, std::int64_t> noted_;
  Counts counts_;
};

}  // namespace steep::test
