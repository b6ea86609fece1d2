#pragma once
/// Copies of a book for tests: each in memory, with a clock and chance of its own.

#include <doctest/doctest.h>
#include <memory>
#include <string>

#include "book/book.h"
#include "handover/give.h"
#include "handover/take.h"

namespace steep::testing {

/// One copy on one device. The clock stands still unless a test moves it.
struct Copy {
  explicit Copy(std::string name, std::uint64_t seed = 1, std::string place = ":memory:")
      : label(std::move(name)), state(std::make_shared<State>()) {
    state->seed = seed * 0x9E3779B97F4A7C15ULL + 1;
    auto opened = Book::open({std::move(place), "", false}, needs());
    REQUIRE(opened);
    book = std::make_unique<Book>(std::move(*opened));
    REQUIRE(book->set_copy_label(label));
  }

  BookNeeds needs() const {
    BookNeeds needs;
    needs.now = [s = state] { return Stamp{s->now, -240}; };
    needs.random = [s = state](std::span<std::uint8_t> bytes) {
      for (auto& byte : bytes) {
        s->seed ^= s->seed << 13;
        s->seed ^= s->seed >> 7;
        s->seed ^= s->seed << 17;
        byte = static_cast<std::uint8_t>(s->seed >> 24);
      }
    };
    needs.read_anchor = [s = state] { return s->anchor; };
    needs.write_anchor = [s = state](std::string_view text) { s->anchor = text; };
    needs.committed = [] {};
    return needs;
  }

  /// Starts the business with one person.
  void start(std::string_view name = "Alder Reach", bool demo = false) {
    REQUIRE(book->start(name, demo));
    person = add("person", {text_field_value("name", "Ana Leland")});
  }
  Id add(std::string_view kind, std::vector<FieldValue> fields, std::optional<Part> part = {}) {
    Save save;
    save.record = book->new_record();
    save.kind = kind;
    save.part = part;
    save.fields = std::move(fields);
    const auto written = book->write(save, person);
    CAPTURE(kind);
    REQUIRE(written);
    return save.record;
  }
  /// Writes new values over what the record shows now.
  void change(const Id& record, std::vector<FieldValue> fields, std::string why = "corrected") {
    const auto now_shown = book->record(record);
    REQUIRE(now_shown);
    REQUIRE(*now_shown);
    Save save;
    save.record = record;
    save.kind = (**now_shown).kind;
    save.part = (**now_shown).part;
    save.fields = std::move(fields);
    save.seen = (**now_shown).heads();
    save.why = std::move(why);
    REQUIRE(book->write(save, person));
  }
  File give_all(Packing packing = Packing::Gzip) const {
    const auto given = give(*book, {packing, {}, {}, false});
    REQUIRE(given);
    return given->file;
  }
  Book::TakeIn::Outcome take(File file, std::string join = {}) {
    const auto taken = take_in(*book, std::move(file), std::move(join));
    if (!taken) {
      CAPTURE(taken.error().word.key);
      CAPTURE(taken.error().place);
      REQUIRE(taken);
    }
    return *taken;
  }
  void pass_minutes(int minutes) { state->now = state->now + minutes * kMinute; }

  struct State {
    Moment now{1778796340123};  // 14 May 2026, evening on the farm
    std::uint64_t seed = 1;
    std::string anchor;
  };
  std::string label;
  std::shared_ptr<State> state;
  std::unique_ptr<Book> book;
  Id person;
};

/// Both take each other's whole file.
inline void exchange(Copy& a, Copy& b) {
  const File from_a = a.give_all();
  a.take(b.give_all());
  b.take(from_a);
}

}  // namespace steep::testing
