#pragma once
/// How the core reports that something could not be done.
///
/// A function that can fail returns `Result<T>`. The error is a `Problem`: a kind for code and
/// tests, and the id of a sentence with its arguments for people. Sentences are made at the edge,
/// in the reader's language (`Words`), never inside the core.

#include <string>
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

template <class T>
class [[nodiscard]] Result : public tl::expected<T, Problem> {
 public:
  using tl::expected<T, Problem>::expected;
  Result(tl::expected<T, Problem> other) : tl::expected<T, Problem>(std::move(other)) {}
  /// Undefined behaviour on an error when exceptions are off: test first, then use `*r`.
  template <class U = T>
  auto& value() = delete;
};

/// The error to return: `return refuse(Trouble::BadInput, "bed.width"_w, {typed}, "size.width");`
inline auto refuse(Trouble kind, WordId word, std::vector<std::string> values = {},
                   std::string place = {}) {
  return tl::unexpected<Problem>(Problem{kind, word, std::move(values), std::move(place)});
}

#define STEEP_JOIN_(a, b) a##b
#define STEEP_JOIN(a, b) STEEP_JOIN_(a, b)

/// Passes a problem upward: `TRY(check(bed));`
#define TRY(expression)                                                    \
  do {                                                                     \
    if (auto try_result = (expression); !try_result)                       \
      return tl::unexpected<::steep::Problem>(std::move(try_result.error())); \
  } while (false)

/// Unwraps or passes upward: `TRY_ASSIGN(const Bed bed, find_bed(book, id));`
#define TRY_ASSIGN(declaration, expression) \
  TRY_ASSIGN_(STEEP_JOIN(try_value_, __LINE__), declaration, expression)
#define TRY_ASSIGN_(name, declaration, expression)                    \
  auto name = (expression);                                           \
  if (!name) return tl::unexpected<::steep::Problem>(std::move(name.error())); \
  declaration = std::move(*name)

}  // namespace steep
