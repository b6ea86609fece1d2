#pragma once
/// How the core reports that something could not be done.
///
/// A function that can fail returns `Result<T>`. The error is a `Problem`: a kind for code and
/// tests, and the id of a sentence with its arguments for people. Sentences are made at the edge,
/// in the reader's language (`Words`), never inside the core.

#include <concepts>
#include <initializer_list>
#include <string>
#include <string_view>
#include <tl/expected.hpp>
#include <utility>
#include <vector>

#include "base/word_id.h"

namespace steep {

enum class Trouble {
  BadInput,     ///< What was given cannot be used as it stands. Not savable.
  Ask,          ///< Two readings are possible, or a likely slip: a person must answer first.
  OutOfRange,   ///< Outside what the source of a formula or rule covers.
  NotFound,     ///< It points to something that is not here.
  Conflict,     ///< It contradicts what is recorded, or somebody else is writing.
  Damaged,      ///< A file or book is not as it was written.
  System,       ///< Disk, browser storage or another part of the machine refused.
  Unsupported,  ///< This copy of the program cannot do that.
};

struct Problem {
  Trouble kind = Trouble::BadInput;
  WordId word;                      ///< Which sentence: what is wrong, with which value, what to do.
  std::vector<std::string> values;  ///< Its arguments, in order: as typed, names, codes.
  std::string place;                ///< Field, file and line, or statement; for the cursor and the log.

  bool operator==(const Problem&) const = default;
};

/// A problem on its way through TRY into the caller's result: made and used within one return.
struct PassedOn {
  Problem& problem;
};

template <class T>
class [[nodiscard]] Result : public tl::expected<T, Problem> {
 public:
  using tl::expected<T, Problem>::expected;
  Result(tl::expected<T, Problem> other) : tl::expected<T, Problem>(std::move(other)) {}
  /// What TRY returns: the problem moves straight into the caller's result.
  Result(PassedOn passed) : tl::expected<T, Problem>(tl::unexpect, std::move(passed.problem)) {}
  /// Undefined behaviour on an error when exceptions are off: test first, then use `*r`.
  template <class U = T>
  auto& value() = delete;
};

/// The values of a sentence as an argument: read at once, never kept. Temporary texts may stand in it.
using Values = std::initializer_list<std::string_view>;

/// The error to return: `return refuse(Trouble::BadInput, "bed.width"_w, {typed}, "size.width");`
tl::unexpected<Problem> refuse(Trouble kind, WordId word, Values values = {}, std::string_view place = {});
/// The same with values that were collected before.
template <std::same_as<std::vector<std::string>> List>
tl::unexpected<Problem> refuse(Trouble kind, WordId word, List values, std::string_view place = {}) {
  auto refused = refuse(kind, word, Values{}, place);
  refused.value().values = std::move(values);
  return refused;
}

#define STEEP_JOIN_(a, b) a##b
#define STEEP_JOIN(a, b) STEEP_JOIN_(a, b)

/// Passes a problem upward: `TRY(check(bed));`
#define TRY(expression)                                                                            \
  do {                                                                                             \
    if (auto try_result = (expression); !try_result) return ::steep::PassedOn{try_result.error()}; \
  } while (false)

/// Unwraps or passes upward: `TRY_ASSIGN(const Bed& bed, find_bed(book, id));`
#define TRY_ASSIGN(declaration, expression) TRY_ASSIGN_(STEEP_JOIN(try_value_, __LINE__), declaration, expression)
#define TRY_ASSIGN_(name, declaration, expression)   \
  auto name = (expression);                          \
  if (!name) return ::steep::PassedOn{name.error()}; \
  declaration = std::move(*name)

}  // namespace steep
