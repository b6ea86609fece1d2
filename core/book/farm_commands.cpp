#include "book/farm_commands.h"

#include <algorithm>
#include <set>

#include "base/text.h"
#include "book/limit_kinds.h"
#include "book/rows.h"
#include "book/saves.h"
#include "book/spelled.h"

namespace steep {
namespace {

/// 'North' → 'N'; 'No' when another block has 'N' already.
std::string free_prefix(std::string_view name, const std::set<std::string>& taken) {
  std::string prefix;
  for (std::size_t i = 0; i < name.size();) {
    // One whole code point at a time.
    std::size_t length = 1;
    while (i + length < name.size() && (static_cast<unsigned char>(name[i + length]) & 0xC0) == 0x80) ++length;
    if (name[i] != ' ') prefix += name.substr(i, length);
    i += length;
    if (taken.count(lower(prefix)) == 0) return prefix;
  }
  return std::string(name);
}

struct NewBlock {
  Id block;
  std::vector<Id> beds;
};

Result<void> check_block(const BlockGiven& given) {
  if (clean_text(given.name).empty()) return refuse(Trouble::BadInput, "start.block-name"_w, {}, "name");
  if (given.beds < 0 || given.beds > 999)
    return refuse(Trouble::BadInput, "start.block-beds"_w, {std::to_string(given.beds)}, "beds");
  for (const auto* side : {&given.length, &given.width})
    if (*side && ((*side)->dimension() != Dimension::Length || (*side)->amount.is_zero()))
      return refuse(Trouble::BadInput, "start.block-size"_w, {(*side)->text}, "size");
  return {};
}

NewBlock add_block_saves(const Book& book, const Id& farm, const BlockGiven& given, std::set<std::string>& prefixes,
                         const std::vector<std::string>& names, std::vector<Save>& saves) {
  NewBlock made;
  const std::string name = clean_text(given.name);
  std::string prefix = clean_text(given.prefix);
  if (prefix.empty()) prefix = free_prefix(name, prefixes);
  prefixes.insert(lower(prefix));
  std::vector<FieldValue> block{reference_value("farm", farm), text_field_value("name", name)};
  if (!given.kind.empty()) block.push_back(word_value("kind", given.kind));
  Save block_save = new_save(book, "block", std::move(block));
  made.block = block_save.record;
  std::vector<std::string> order;
  std::vector<Save> beds;
  int number = 0;
  for (int i = 0; i < given.beds; ++i) {
    std::string bed_name;
    do bed_name = prefix + std::to_string(++number);
    while (std::find(names.begin(), names.end(), lower(bed_name)) != names.end());
    std::vector<FieldValue> fields{reference_value("block", made.block), text_field_value("name", bed_name),
                                   quantity_or_not_taken("size.length", given.length),
                                   quantity_or_not_taken("size.width", given.width)};
    add_text(fields, "zero_end", given.zero_end);
    add_text(fields, "far_end", given.far_end);
    Save save = new_save(book, "bed", std::move(fields));
    order.push_back(save.record.text());
    made.beds.push_back(save.record);
    beds.push_back(std::move(save));
  }
  if (!order.empty()) block_save.fields.push_back(list_value("order", std::move(order)));
  saves.push_back(std::move(block_save));
  for (Save& bed : beds) saves.push_back(std::move(bed));
  return made;
}

/// '100 ft x 30 in': the two sides of a size, the second with the unit of the first where it has none.
Result<std::pair<Written, Written>> read_size(std::string_view typed, const Habits& habits, System units) {
  static constexpr std::string_view kTimes[] = {"×", " x ", " X ", "*", "x", " by ", " por "};
  for (const std::string_view sign : kTimes) {
    const auto at = typed.find(sign);
    if (at == std::string_view::npos) continue;
    const std::string_view first = trim(typed.substr(0, at)), second = trim(typed.substr(at + sign.size()));
    auto length = read_quantity(first, Dimension::Length, habits, &unit(units == System::Metric ? "m" : "ft"));
    auto width = read_quantity(second, Dimension::Length, habits, &unit(units == System::Metric ? "cm" : "in"));
    if (length && width) return std::pair<Written, Written>(*length, *width);
  }
  return refuse(Trouble::BadInput, "start.block-size"_w, {typed}, "size");
}

}  // namespace

Result<BlockGiven> read_block_line(std::string_view typed, const Habits& habits, System units) {
  BlockGiven given;
  const auto refused = [&] { return refuse(Trouble::BadInput, "start.block-line"_w, {typed}, "block"); };
  // Name and number stand before the first two commas; the size may hold a decimal comma.
  std::string_view rest = trim(typed);
  const auto piece = [&] {
    const auto comma = rest.find(',');
    const std::string_view one = trim(rest.substr(0, comma));
    rest = comma == std::string_view::npos ? std::string_view{} : trim(rest.substr(comma + 1));
    return one;
  };
  given.name = std::string(piece());
  if (given.name.empty()) return refused();
  std::string_view beds = piece();
  const auto digits = beds.find_first_not_of("0123456789");
  const auto count = parse_int(beds.substr(0, digits));
  if (!count || *count < 1 || *count > 999) return refused();
  given.beds = static_cast<int>(*count);
  if (digits != std::string_view::npos) {
    const std::string word = lower(trim(beds.substr(digits)));
    if (word != "beds" && word != "bed" && word != "camas" && word != "cama") return refused();
  }
  if (!rest.empty()) {
    TRY_ASSIGN(const auto& size, read_size(rest, habits, units));
    given.length = size.first;
    given.width = size.second;
  }
  const std::string name = lower(given.name);
  if (name.find("tunnel") != std::string::npos || name.find("túnel") != std::string::npos) given.kind = "tunnel";
  if (name.find("greenhouse") != std::string::npos || name.find("invernadero") != std::string::npos)
    given.kind = "greenhouse";
  return given;
}

Result<StartedFarm> start_farm(Book& book, const FarmGiven& given, const Going& going) {
  const std::string name = clean_text(given.name);
  if (name.empty()) return refuse(Trouble::BadInput, "start.farm-name"_w, {}, "name");
  if (given.tea_wait_days && (*given.tea_wait_days < 0 || *given.tea_wait_days > kLongestWaitDays))
    return refuse(Trouble::BadInput, "start.wait-days"_w, {std::to_string(*given.tea_wait_days)}, "tea_wait");
  TRY_ASSIGN(const Zone& zone, Zone::from_name(given.zone_name));
  for (const BlockGiven& block : given.blocks) TRY(check_block(block));
  StartedFarm started;
  started.person = going.person;
  // A book and its farm in one write: after a kill there are both or neither.
  std::vector<Save> house, farm;
  if (!book.is_started()) house.push_back(book.starting_save(name, false));
  if (started.person.is_nil() && !clean_text(given.person_name).empty()) {
    std::vector<FieldValue> person{text_field_value("name", clean_text(given.person_name))};
    add_text(person, "address", given.person_address);
    house.push_back(new_save(book, "person", std::move(person)));
    started.person = house.back().record;
  }
  std::vector<FieldValue> fields{text_field_value("name", name)};
  add_text(fields, "client", given.client);
  add_text(fields, "address", given.address);
  fields.push_back(text_field_value("zone.name", zone.name()));
  fields.push_back(text_field_value("zone.rule", zone.rule()));
  fields.push_back(word_value("counting", given.counting == DayCounting::Hours ? "hours" : "dates"));
  fields.push_back(word_value("units", given.units == System::Metric ? "metric" : "us"));
  fields.push_back(given.tea_wait_days ? number_value("tea_wait.days", std::to_string(*given.tea_wait_days))
                                       : not_taken("tea_wait.days"));
  if (given.tea_wait_days)
    add_text(fields, "tea_wait.by",
             started.person == going.person ? person_name(book, going.person) : given.person_name);
  farm.push_back(new_save(book, "farm", std::move(fields)));
  started.farm = farm.front().record;
  std::set<std::string> prefixes;
  for (const BlockGiven& block : given.blocks) {
    const NewBlock made = add_block_saves(book, started.farm, block, prefixes, {}, farm);
    started.blocks.push_back(made.block);
    started.beds.insert(started.beds.end(), made.beds.begin(), made.beds.end());
  }
  std::vector<Save> saves = std::move(house);
  for (Save& save : farm) saves.push_back(std::move(save));
  TRY(book.write(saves, started.person));
  return started;
}

Result<Outcome> add_block(Book& book, const Id& farm, const BlockGiven& given, const Going& going) {
  TRY(check_block(given));
  TRY_ASSIGN(const Places& places, read_places(book, farm));
  std::vector<std::string> names;
  std::set<std::string> prefixes;
  for (const auto* list : {&places.beds, &places.others})
    for (const Bed& bed : *list) {
      names.push_back(lower(bed.name));
      prefixes.insert(lower(bed.name.substr(0, bed.name.find_first_of("0123456789"))));
    }
  std::vector<Save> saves;
  const NewBlock made = add_block_saves(book, farm, given, prefixes, names, saves);
  return write_with(book, std::move(saves), made.block, {}, going);
}

Result<Outcome> set_farm_rule(Book& book, const Id& farm, std::optional<int> days, std::string_view by,
                              const Going& going) {
  if (days && (*days < 0 || *days > kLongestWaitDays))
    return refuse(Trouble::BadInput, "start.wait-days"_w, {std::to_string(*days)}, "tea_wait.days");
  std::vector<FieldValue> fields{days ? number_value("tea_wait.days", std::to_string(*days))
                                      : not_taken("tea_wait.days")};
  add_text(fields, "tea_wait.by", by.empty() ? person_name(book, going.person) : std::string(by));
  TRY_ASSIGN(Save save, change_save(book, farm, std::move(fields), going.reason));
  return write_with(book, {std::move(save)}, farm, {}, going);
}

Result<Outcome> set_limit(Book& book, const Id& farm, std::string_view which, const std::optional<Written>& value,
                          std::string_view by, const Going& going) {
  if (value) TRY(check_limit(which, *value));
  std::vector<FieldValue> fields{quantity_or_not_taken("limit.value", value)};
  // A bare number ('90' days) is kept as a number.
  if (value && value->dimension() == Dimension::Number) fields.front() = number_value("limit.value", value->text);
  add_text(fields, "limit.by", by.empty() ? person_name(book, going.person) : std::string(by));
  Query query =
      book.db().query("SELECT uid FROM k_limit WHERE farm = ? AND which = ? AND struck IS NULL ORDER BY uid LIMIT 1");
  query.bind(1, farm).bind(2, which);
  const Id existing = query.next() ? query.id(0) : Id{};
  TRY(query.done());
  if (!existing.is_nil()) {
    TRY_ASSIGN(Save save, change_save(book, existing, std::move(fields), going.reason));
    return write_with(book, {std::move(save)}, existing, {}, going);
  }
  fields.push_back(reference_value("farm", farm));
  fields.push_back(word_value("which", which));
  Save save = new_save(book, "limit", std::move(fields), going.reason);
  const Id record = save.record;
  return write_with(book, {std::move(save)}, record, {}, going);
}

Result<Outcome> set_interval(Book& book, const Id& farm, const Id& on, std::string_view crop, bool on_soil,
                             std::optional<int> days, const Going& going) {
  if (days && (*days < 1 || *days > kLongestWaitDays))
    return refuse(Trouble::BadInput, "start.interval-days"_w, {std::to_string(*days)}, "days");
  const std::string plain_crop = clean_text(crop);
  Query query = book.db().query(
      "SELECT uid FROM k_interval WHERE farm = ?1 AND aim = ?2 AND struck IS NULL AND (CASE WHEN ?3 <> '' THEN "
      "lower(crop) = lower(?3) ELSE crop IS NULL AND (\"on\" IS ?4 OR (\"on\" IS NULL AND ?4 = ?1)) END) ORDER BY "
      "uid LIMIT 1");
  query.bind(1, farm).bind(2, on_soil ? "soil" : "leaf").bind(3, plain_crop);
  query.bind(4, on.is_nil() ? farm : on);
  const Id existing = query.next() ? query.id(0) : Id{};
  TRY(query.done());
  if (!existing.is_nil()) {
    const std::string why = clean_text(going.reason);
    std::vector<FieldValue> fields;
    if (days) {
      fields.push_back(number_value("days", std::to_string(*days)));
    } else {
      fields.push_back(text_field_value("struck", why.empty() ? "not wanted" : why));
    }
    TRY_ASSIGN(Save save, change_save(book, existing, std::move(fields), why));
    return write_with(book, {std::move(save)}, existing, {}, going);
  }
  if (!days) return Outcome{};
  std::vector<FieldValue> fields{reference_value("farm", farm), word_value("aim", on_soil ? "soil" : "leaf"),
                                 number_value("days", std::to_string(*days))};
  if (!plain_crop.empty()) {
    add_text(fields, "crop", plain_crop);
  } else {
    add_reference(fields, "on", on.is_nil() ? farm : on);
  }
  Save save = new_save(book, "interval", std::move(fields), going.reason);
  const Id record = save.record;
  return write_with(book, {std::move(save)}, record, {}, going);
}

}  // namespace steep
