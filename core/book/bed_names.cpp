// Names of beds as people write them: their order, and which bed is meant.
#include <algorithm>

#include "base/text.h"
#include "book/called.h"
#include "book/places.h"

namespace steep {

bool name_before(std::string_view a, std::string_view b) {
  const auto is_digit = [](char c) { return c >= '0' && c <= '9'; };
  const std::string la = lower(a), lb = lower(b);
  std::size_t i = 0, j = 0;
  while (i < la.size() && j < lb.size()) {
    if (is_digit(la[i]) && is_digit(lb[j])) {
      while (i < la.size() && la[i] == '0') ++i;
      while (j < lb.size() && lb[j] == '0') ++j;
      const std::size_t ib = i, jb = j;
      while (i < la.size() && is_digit(la[i])) ++i;
      while (j < lb.size() && is_digit(lb[j])) ++j;
      if (i - ib != j - jb) return i - ib < j - jb;
      if (const int order = la.compare(ib, i - ib, lb, jb, j - jb); order != 0) return order < 0;
    } else {
      if (la[i] != lb[j]) return static_cast<unsigned char>(la[i]) < static_cast<unsigned char>(lb[j]);
      ++i;
      ++j;
    }
  }
  if ((i < la.size()) != (j < lb.size())) return j < lb.size();
  return a < b;
}

namespace {

/// 'B-07' → 'b7': what makes two ways of writing one name equal.
std::string plain_name(std::string_view name) {
  std::string plain;
  const std::string low = lower(name);
  for (std::size_t i = 0; i < low.size(); ++i) {
    const char c = low[i];
    if (c == ' ' || c == '-' || c == '_' || c == '.') continue;
    const bool after_digit = !plain.empty() && plain.back() >= '0' && plain.back() <= '9';
    const bool before_digit = i + 1 < low.size() && low[i + 1] >= '0' && low[i + 1] <= '9';
    if (c == '0' && !after_digit && before_digit) continue;
    plain += c;
  }
  return plain;
}

/// Signs that are easily taken for another: looks alike, not the same.
std::string look_alike(std::string_view name) {
  static constexpr std::pair<std::string_view, char> kTwins[] = {
      {"ß", 'b'}, {"β", 'b'}, {"в", 'b'}, {"В", 'b'}, {"8", 'b'}, {"с", 'c'}, {"С", 'c'}, {"ç", 'c'},
      {"(", 'c'}, {"т", 't'}, {"Т", 't'}, {"7", 't'}, {"м", 'm'}, {"М", 'm'}, {"а", 'a'}, {"А", 'a'},
      {"á", 'a'}, {"é", 'e'}, {"е", 'e'}, {"Е", 'e'}, {"ñ", 'n'}, {"Ñ", 'n'}, {"н", 'h'}, {"Н", 'h'},
      {"р", 'p'}, {"Р", 'p'}, {"к", 'k'}, {"К", 'k'}, {"х", 'x'}, {"Х", 'x'}, {"$", 's'}, {"5", 's'},
      {"|", '1'}, {"l", '1'}, {"i", '1'}, {"í", '1'}, {"o", '0'}, {"о", '0'}, {"О", '0'}, {"ó", '0'}};
  std::string out;
  for (std::size_t i = 0; i < name.size();) {
    bool twin = false;
    for (const auto& [sign, letter] : kTwins) {
      if (name.substr(i, sign.size()) != sign) continue;
      out += letter;
      i += sign.size();
      twin = true;
      break;
    }
    if (!twin) out += name[i++];
  }
  return out;
}

}  // namespace

namespace {

/// 'North N1 – N24, Tunnel T1 – T8': what there is to choose from.
std::string all_beds(std::span<const Bed> beds) {
  struct Row {
    std::string_view block, first, last;
  };
  std::vector<Row> rows;
  for (const Bed& bed : beds) {
    const auto row =
        std::find_if(rows.begin(), rows.end(), [&](const Row& one) { return one.block == bed.block_name; });
    if (row == rows.end()) {
      rows.push_back({bed.block_name, bed.name, bed.name});
      continue;
    }
    if (name_before(bed.name, row->first)) row->first = bed.name;
    if (name_before(row->last, bed.name)) row->last = bed.name;
  }
  std::vector<std::string> texts;
  for (const Row& row : rows)
    texts.push_back(std::string(row.block) + ' ' + std::string(row.first) +
                    (row.first == row.last ? std::string() : " – " + std::string(row.last)));
  return join(texts, ", ");
}

/// 'North N1', and the end of the id where two beds of the block have one name.
std::string bed_told_apart(const Bed& bed, const std::vector<const Bed*>& among) {
  const std::string name = bed.block_name + ' ' + bed.name;
  const auto alike = std::count_if(among.begin(), among.end(), [&](const Bed* other) {
    return lower(other->block_name) == lower(bed.block_name) && lower(other->name) == lower(bed.name);
  });
  return alike > 1 ? name + ' ' + id_end(bed.id) : name;
}

}  // namespace

Result<Id> bed_by_name(std::span<const Bed> beds, std::string_view typed) {
  const std::string wanted = plain_name(trim(typed));
  std::vector<const Bed*> same, alike;
  for (const Bed& bed : beds) {
    const std::string plain = plain_name(bed.name);
    if (plain_name(bed.block_name + ' ' + bed.name + ' ' + id_end(bed.id)) == wanted) return bed.id;
    if (plain == wanted || plain_name(bed.block_name) + plain == wanted) {
      same.push_back(&bed);
    } else if (!wanted.empty() && look_alike(plain) == look_alike(wanted)) {
      alike.push_back(&bed);
    }
  }
  if (same.size() == 1) return same.front()->id;
  std::vector<std::string> values{std::string(typed)};
  const auto& asked = same.empty() ? alike : same;
  for (const Bed* bed : asked) values.push_back(same.empty() ? bed->name : bed_told_apart(*bed, same));
  if (!asked.empty())
    return refuse(Trouble::Ask, same.empty() ? "place.bed-like"_w : "place.bed-several"_w, values, "bed");
  if (beds.empty()) return refuse(Trouble::NotFound, "place.bed-unknown"_w, {typed}, "bed");
  return refuse(Trouble::NotFound, "place.bed-not-among"_w, {std::string(typed), all_beds(beds)}, "bed");
}

}  // namespace steep
