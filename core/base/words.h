#pragma once
/// Words and sentences for people, by id and language.

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "base/word_id.h"

namespace steep {

enum class Language { English, Spanish };

/// 'en' or 'es': as stored on a person's record and in lang attributes.
std::string_view language_code(Language language);
/// Unknown codes give English.
Language language_from_code(std::string_view code);

/// All texts of one language. Cheap to copy; passed as a parameter to views and papers.
class Words {
 public:
  explicit Words(Language language) : language_(language) {}

  Language language() const { return language_; }

  /// The text of `id`. An id without a text gives the id itself in brackets: seen at once, never a crash.
  std::string operator()(WordId id) const;
  /// The text with its places {0}, {1} … filled by `values`.
  std::string operator()(WordId id, Values values) const;
  /// The same with values that were collected before.
  template <std::same_as<std::vector<std::string>> List>
  std::string operator()(WordId id, const List& values) const {
    return filled(id, values);
  }
  /// 'id.one' when n is 1, else 'id.other', with {0} = n in plain digits and {1} … = `more`.
  std::string count(WordId id, long long n, Values more = {}) const;
  /// The sentence of a problem.
  std::string operator()(const Problem& problem) const;
  /// Is there a text for this key? For ids made from stored words ('aim.' + "leaf").
  bool has(std::string_view key) const;
  /// Like operator(), for a key made at run time from stored words; the plain `fallback` when unknown.
  std::string stored(std::string_view key, std::string_view fallback) const;

  /// Every key of the table, sorted; for the tests.
  static std::vector<std::string_view> keys();

 private:
  std::string filled(WordId id, const std::vector<std::string>& values) const;

  Language language_;
};

}  // namespace steep
