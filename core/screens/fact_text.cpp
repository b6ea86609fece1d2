#include "screens/fact_text.h"

#include "base/text.h"
#include "book/tables.h"
#include "book/told.h"
#include "quantity/time_shown.h"

namespace steep {

std::string record_title(const Surroundings& around, const Id& record) {
  const std::string kind = around.book.kind_of(record);
  if (kind.empty()) return around.words("settle.not_here"_w);
  return kind_and_name(kind, record_name(around.book, record), around.words);
}

namespace {

/// A piece of a list: a word, a record, or a record with its amount (lines of a planned brew).
std::string item_text(const std::string& item, const Surroundings& around) {
  const std::size_t blank = item.find(' ');
  const auto id = Id::parse(item.substr(0, blank));
  if (!id) return printable(item);
  const std::string name = record_name(around.book, *id);
  const std::string shown = name.empty() ? record_title(around, *id) : name;
  if (blank == std::string::npos) return shown;
  const std::string rest = item.substr(blank + 1);
  const auto amount = parse_written(rest);
  return shown + " " + (amount ? show(*amount, around.units, around.words) : printable(rest));
}

}  // namespace

std::string value_text(const FieldValue& field, const Surroundings& around) {
  const Words& words = around.words;
  if (field.key == "struck")
    return field.type == FieldType::NotTaken ? words("settle.not_struck"_w)
                                             : words("record.struck"_w, {reason_text(field.text, words)});
  switch (field.type) {
    case FieldType::NotTaken: return words("look.not_taken"_w);
    case FieldType::Quantity:
      if (const auto written = parse_written(field.text)) return show(*written, around.units, words);
      return printable(field.text);
    case FieldType::Instant:
      if (const auto stamp = parse_stamp(field.text)) return around.when(stamp->at);
      return printable(field.text);
    case FieldType::Date:
      if (const auto date = parse_date(field.text)) return show_full_day(*date, words);
      return printable(field.text);
    case FieldType::Reference: {
      const auto id = Id::parse(field.text);
      if (!id || around.book.kind_of(*id).empty()) return words("settle.not_here"_w);
      // A number alone says nothing: 'Brew 31', but 'Kelp, liquid'.
      const std::string kind = around.book.kind_of(*id), name = record_name(around.book, *id);
      return name.empty() || kind == "brew" || kind == "pass" || kind == "load" ? record_title(around, *id) : name;
    }
    case FieldType::List: {
      std::vector<std::string> items;
      for (const std::string& item : field.items) items.push_back(item_text(item, around));
      return join(items, ", ");
    }
    case FieldType::YesNo: return words(field.text == "yes" ? "paper.yes"_w : "paper.no"_w);
    case FieldType::Text: return text_told(field.key, field.text, words);
    case FieldType::Word: return stored_word(field.key, field.text, words);
    default: return printable(field.text);
  }
}

std::string fact_text(const std::vector<FieldValue>& fields, const Surroundings& around) {
  std::vector<std::string> pieces;
  for (const FieldValue& field : fields) pieces.push_back(value_text(field, around));
  return join(pieces, ", ");
}

std::string author_text(const Surroundings& around, Moment at, const std::string& who, const std::string& copy) {
  std::vector<std::string> pieces;
  if (at.ms > 0) pieces.push_back(around.when(at));
  if (!who.empty()) pieces.push_back(who);
  if (!copy.empty()) pieces.push_back(copy);
  return join(pieces, " · ");
}

std::string reason_text(const std::string& why, const Words& words) {
  return words.stored("why." + why, printable(why));
}

}  // namespace steep
