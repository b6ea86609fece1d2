#pragma once
/// A record as it would be once a person's values are written: those given, and of a correction those that stay. Only
/// core/book includes this.

#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "book/book.h"
#include "book/caution.h"
#include "quantity/written.h"

namespace steep {

// What a value says; nullopt for one that is not there, not taken, or of another kind.
std::optional<Written> amount_in_field(const FieldValue* field);
template <class Q>
std::optional<Q> amount_in_field(const FieldValue* field) {
  const auto written = amount_in_field(field);
  return written && written->dimension() == Q::kDimension ? std::optional<Q>(as<Q>(*written)) : std::nullopt;
}
std::optional<Moment> moment_in_field(const FieldValue* field);
Id reference_in_field(const FieldValue* field);

class Entry {
 public:
  /// `old`: the record that is corrected or settled; nullptr = a new one.
  Entry(std::string_view record_kind, const std::vector<FieldValue>& given, const Record* old)
      : kind(record_kind), fields(given), was(old) {}

  const FieldValue* given(std::string_view key) const;
  /// As given, else as it stands; nullptr = neither.
  const FieldValue* field(std::string_view key) const;
  const FieldValue* before(std::string_view key) const { return was ? was->field(key) : nullptr; }
  /// Given, and not what stood there: carried along with its group is no change.
  bool changes(std::string_view key) const;
  bool changes_any(std::initializer_list<std::string_view> keys) const;

  std::string text(std::string_view key) const;
  std::optional<Written> amount(std::string_view key) const { return amount_in_field(field(key)); }
  template <class Q>
  std::optional<Q> amount_of(std::string_view key) const {
    return amount_in_field<Q>(field(key));
  }
  std::optional<Moment> moment(std::string_view key) const { return moment_in_field(field(key)); }
  Id reference(std::string_view key) const { return reference_in_field(field(key)); }
  Id id() const { return was ? was->id : Id{}; }

  const std::string_view kind;
  const std::vector<FieldValue>& fields;
  const Record* was;
};

/// What the checks of one entry found. An Ask that the person goes on with for a reason is a caution like others.
class Cautions {
 public:
  explicit Cautions(const Going& going);
  Result<void> ask(Result<void> checked);
  void add(Caution caution) { all_.push_back(std::move(caution)); }
  void add(std::vector<Caution> cautions);
  std::vector<Caution> take() { return std::move(all_); }

 private:
  bool has_reason_;
  std::vector<Caution> all_;
};

/// Stop and Ask over single values and what stands beside them in the record.
Result<void> check_values(const Book& book, const Entry& entry, Cautions& cautions);
/// Ask and Warn over what other records say.
Result<void> check_beside(const Book& book, const Entry& entry, Cautions& cautions);

}  // namespace steep
