#include "book/places.h"

#include <algorithm>
#include <cmath>

#include "base/sorting.h"
#include "base/text.h"
#include "book/bed_polygon.h"
#include "book/rows.h"
#include "book/wait_days.h"

namespace steep {
namespace {

void read_row(Rows& rows, Farm& farm) {
  farm.name = rows.text("name");
  farm.client = rows.text("client");
  farm.address = rows.text("address");
  farm.latitude = rows.number("place.latitude");
  farm.longitude = rows.number("place.longitude");
  farm.elevation = rows.quantity<Length>("place.elevation");
  const std::string name = rows.text("zone.name"), rule = rows.text("zone.rule");
  if (auto zone = Zone::from_rule(name, rule); !rule.empty() && zone) {
    farm.zone = *zone;
    farm.zone_known = true;
  } else if (auto named = Zone::from_name(name); !name.empty() && named) {
    farm.zone = *named;
    farm.zone_known = true;
  }
  farm.counting = rows.text("counting") == "hours" ? DayCounting::Hours : DayCounting::Dates;
  farm.units = rows.text("units") == "metric" ? System::Metric : System::Us;
  farm.certifier = rows.text("certifier");
  farm.plan_number = rows.text("plan_number");
  farm.rules = rows.list("rules");
  const Taken<double> days = rows.number("tea_wait.days");
  if (const auto whole = whole_wait_days(days.maybe())) farm.tea_wait_days = *whole;
  if (days.is_not_taken()) farm.tea_wait_days = Taken<int>::not_taken();
  farm.tea_wait_by = rows.text("tea_wait.by");
  farm.harvest_pattern = rows.text("harvest_pattern");
  if (farm.harvest_pattern.empty()) farm.harvest_pattern = "{bed}-{day}-{copy}";
}

void read_row(Rows& rows, Block& block) {
  block.farm = rows.reference("farm");
  block.name = rows.text("name");
  block.kind = rows.text("kind");
  block.order = rows.ids("order");
}

void read_row(Rows& rows, Bed& bed) {
  bed.farm = bed.part.farm;
  bed.block = rows.reference("block");
  bed.name = rows.text("name");
  bed.length = rows.quantity<Length>("size.length");
  bed.width = rows.quantity<Length>("size.width");
  bed.polygon = rows.text("size.polygon");
  if (!bed.polygon.empty() && (!bed.length || !bed.width)) {
    if (const auto sides = sides_of_corners(bed.polygon, bed.length.maybe(), bed.width.maybe())) {
      bed.length = sides->length;
      bed.width = sides->width;
    }
  }
  bed.zero_end = rows.text("zero_end");
  bed.far_end = rows.text("far_end");
  bed.valid_from = rows.date("valid.from");
  bed.valid_to = rows.date("valid.to");
  bed.origin = ground_pieces(rows.list("origin.beds"));
  bed.origin_how = rows.text("origin.how");
}

void read_row(Rows& rows, Planting& planting) {
  planting.bed = rows.reference("bed");
  planting.crop = rows.text("crop");
  planting.variety = rows.text("variety");
  planting.from = rows.quantity<Length>("stretch.from");
  planting.to = rows.quantity<Length>("stretch.to");
  planting.plants = rows.number("plants");
  planting.sown = rows.date("sown");
  planting.planted = rows.date("planted");
  planting.first_harvest = rows.date("first_harvest");
  planting.ended = rows.date("ended");
  planting.touches_soil = rows.yes_no("touches_soil");
}

void read_row(Rows& rows, FarmLimit& limit) {
  limit.farm = rows.reference("farm");
  limit.which = rows.text("which");
  limit.typed = rows.text("limit.value");
  limit.by = rows.text("limit.by");
  limit.value = rows.si("limit.value");
  if (!limit.value) limit.value = rows.number("limit.value");
}

void read_row(Rows& rows, FarmInterval& interval) {
  interval.farm = rows.reference("farm");
  interval.on = rows.reference("on");
  interval.crop = rows.text("crop");
  interval.on_soil = rows.text("aim") == "soil";
  interval.days = static_cast<int>(std::lround(rows.number("days").value_or(0)));
}

template <class T>
Result<std::vector<T>> rows_of_part(const Book& book, std::string_view kind, const Part& part) {
  Rows rows(book, kind, "WHERE part = ? AND struck IS NULL");
  rows.query().bind(1, part.text());
  return read_all<T>(rows, [](Rows& r, T& record) { read_row(r, record); });
}

/// Which beds are the same as which: each id that is not shown → the one that is (the end of its chain).
std::vector<std::pair<Id, Id>> joined_beds(const std::vector<Bed>& beds) {
  std::vector<std::pair<Id, Id>> joined;
  const auto target = [&](const Id& id) {
    for (const Bed& bed : beds)
      if (bed.id == id) return bed.same_as;
    return Id{};
  };
  const auto is_here = [&](const Id& id) {
    return std::any_of(beds.begin(), beds.end(), [&](const Bed& bed) { return bed.id == id; });
  };
  for (const Bed& bed : beds) {
    Id shown = bed.id, least = bed.id;
    for (std::size_t steps = 0; steps <= beds.size() && is_here(target(shown)); ++steps) {
      shown = target(shown);
      least = std::min(least, shown);
    }
    // Two beds that point at each other: the smaller id is shown, on every copy alike.
    if (is_here(target(shown))) shown = least;
    if (shown != bed.id) joined.emplace_back(bed.id, shown);
  }
  std::sort(joined.begin(), joined.end());
  return joined;
}

void make_index(Places& places) {
  for (std::size_t i = 0; i < places.beds.size(); ++i) places.index[places.beds[i].id] = i;
  for (const auto& [hidden, shown] : places.joined)
    if (const auto found = places.index.find(shown); found != places.index.end()) places.index[hidden] = found->second;
  for (std::size_t i = 0; i < places.beds.size(); ++i)
    for (const Id& one : places.same.same(places.beds[i].id))
      if (places.index.count(one) == 0) places.elsewhere[one].push_back(i);
}

Result<std::vector<Planting>> plantings_on(const Book& book, const Id& bed) {
  Rows rows(book, "planting", "WHERE struck IS NULL AND bed = ?");
  rows.query().bind(1, bed);
  return read_all<Planting>(rows, [](Rows& r, Planting& planting) { read_row(r, planting); });
}

/// What another farm's record says that grows on ground of this one.
Result<void> add_plantings_elsewhere(const Book& book, Date day, Places& places) {
  for (const auto& [bed, at] : places.elsewhere) {
    TRY_ASSIGN(std::vector<Planting> there, plantings_on(book, bed));
    for (Planting& planting : there)
      if (planting.grows_on(day)) places.plantings.push_back(std::move(planting));
  }
  return {};
}

void index_plantings(Places& places) {
  places.planted.resize(places.beds.size());
  for (std::size_t i = 0; i < places.plantings.size(); ++i)
    for (const Bed* bed : places.beds_told_of(places.plantings[i].bed))
      places.planted[static_cast<std::size_t>(bed - places.beds.data())].push_back(i);
  for (std::size_t bed = 0; bed < places.beds.size(); ++bed)
    sort_list(places.planted[bed], [&](std::size_t a, std::size_t b) {
      const Bed& of = places.beds[bed];
      const Length from = places.plantings[a].stretch(of).from, other = places.plantings[b].stretch(of).from;
      return from != other ? from < other : places.plantings[a].id < places.plantings[b].id;
    });
}

void sort_beds(std::vector<Bed>& beds, const std::vector<Block>& blocks) {
  struct Place {
    std::size_t block, in_order;
  };
  std::map<Id, Place> places;
  for (const Bed& bed : beds) {
    Place place{blocks.size(), 0};
    for (std::size_t i = 0; i < blocks.size(); ++i) {
      if (blocks[i].id != bed.block) continue;
      const auto& order = blocks[i].order;
      place = {i, static_cast<std::size_t>(std::find(order.begin(), order.end(), bed.id) - order.begin())};
    }
    places[bed.id] = place;
  }
  sort_list(beds, [&](const Bed& a, const Bed& b) {
    const Place &pa = places[a.id], &pb = places[b.id];
    if (pa.block != pb.block) return pa.block < pb.block;
    if (pa.in_order != pb.in_order) return pa.in_order < pb.in_order;
    if (a.name != b.name) return name_before(a.name, b.name);
    return a.id < b.id;
  });
}

}  // namespace

std::optional<Area> Bed::area() const { return area_of(whole()); }

std::optional<Area> Bed::area_of(Stretch stretch) const {
  if (!length || !width) return std::nullopt;
  return stretch.length() * *width;
}

std::optional<Date> Planting::started() const {
  if (sown && planted) return std::min(*sown, *planted);
  return sown ? sown : planted;
}

bool Planting::grows_on(Date day) const {
  const auto start = started();
  return (!start || *start <= day) && (!ended || day <= *ended);
}

Stretch Planting::stretch(const Bed& of) const {
  const Length a = from.value_or(Length{}), b = to.value_or(of.whole().to);
  return {std::min(a, b), std::max(a, b)};
}

const Bed* Places::bed(const Id& id) const {
  const auto found = index.find(id);
  return found == index.end() ? nullptr : &beds[found->second];
}

const Bed* Places::any_bed(const Id& id) const {
  if (const Bed* shown = bed(id)) return shown;
  for (const Bed& other : others)
    if (other.id == id) return &other;
  return nullptr;
}

const Block* Places::block(const Id& id) const {
  for (const Block& block : blocks)
    if (block.id == id) return &block;
  return nullptr;
}

std::vector<const Bed*> Places::beds_told_of(const Id& id) const {
  if (const Bed* own = bed(id)) return {own};
  std::vector<const Bed*> found;
  if (const auto other = elsewhere.find(id); other != elsewhere.end())
    for (const std::size_t i : other->second) found.push_back(&beds[i]);
  return found;
}

const FarmLimit* Places::limit(std::string_view which) const {
  for (const FarmLimit& limit : limits)
    if (limit.which == which && limit.value) return &limit;
  return nullptr;
}

std::vector<const Planting*> Places::crops_of(const Id& id) const {
  std::vector<const Planting*> found;
  const auto at = index.find(id);
  if (at == index.end()) return found;
  for (const std::size_t planting : planted[at->second]) found.push_back(&plantings[planting]);
  return found;
}

std::string Places::crop_names(const Id& id) const {
  std::vector<std::string> names;
  for (const Planting* planting : crops_of(id))
    if (std::find(names.begin(), names.end(), planting->crop) == names.end()) names.push_back(planting->crop);
  return join(names, ", ");
}

std::vector<Interval> Places::intervals_for(const Bed& of, const Planting* planting) const {
  std::vector<Interval> found;
  for (const FarmInterval& interval : intervals) {
    std::optional<IntervalPlace> place;
    if (!interval.crop.empty()) {
      if (planting && lower(interval.crop) == lower(planting->crop)) place = IntervalPlace::Crop;
    } else if (interval.on.is_nil() || interval.on == farm.id) {
      place = IntervalPlace::Farm;
    } else if (interval.on == of.block) {
      place = IntervalPlace::Block;
    } else if (planting && interval.on == planting->id) {
      place = IntervalPlace::Planting;
    }
    if (place) found.push_back({*place, interval.on_soil, interval.days});
  }
  return found;
}

Result<std::vector<Farm>> farms(const Book& book) {
  Rows rows(book, "farm", "WHERE struck IS NULL");
  TRY_ASSIGN(std::vector<Farm> all, read_all<Farm>(rows, [](Rows& r, Farm& farm) { read_row(r, farm); }));
  sort_list(all, [](const Farm& a, const Farm& b) {
    if (a.client.empty() != b.client.empty()) return a.client.empty();
    if (a.name != b.name) return name_before(a.name, b.name);
    return a.id < b.id;
  });
  return all;
}

Result<Farm> read_farm(const Book& book, const Id& id) {
  return read_one<Farm>(book, "farm", id, "place.no-farm"_w, [](Rows& r, Farm& farm) { read_row(r, farm); });
}

Result<Places> read_places(const Book& book, const Id& farm, std::optional<Date> on) {
  Places found;
  TRY_ASSIGN(found.farm, read_farm(book, farm));
  const Date day = on ? *on : found.farm.day(book.now().at);
  const Part part = found.farm.part;
  TRY_ASSIGN(found.blocks, rows_of_part<Block>(book, "block", part));
  TRY_ASSIGN(found.beds, rows_of_part<Bed>(book, "bed", part));
  {
    // Only what has not ended by the day: of ten seasons' plantings a few.
    Rows rows(book, "planting", "WHERE part = ? AND struck IS NULL AND (ended IS NULL OR ended >= ?)");
    rows.query().bind(1, part.text()).bind(2, date_text(day));
    TRY_ASSIGN(found.plantings, read_all<Planting>(rows, [](Rows& r, Planting& planting) { read_row(r, planting); }));
  }
  TRY_ASSIGN(found.intervals, rows_of_part<FarmInterval>(book, "interval", part));
  TRY_ASSIGN(found.limits, rows_of_part<FarmLimit>(book, "limit", part));
  sort_list(found.blocks, [](const Block& a, const Block& b) {
    return a.name != b.name ? name_before(a.name, b.name) : a.id < b.id;
  });
  found.joined = joined_beds(found.beds);
  const auto hidden = [&](const Bed& bed) {
    return !bed.is_valid_on(day) || std::any_of(found.joined.begin(), found.joined.end(),
                                                [&](const auto& pair) { return pair.first == bed.id; });
  };
  const auto shown_end =
      std::stable_partition(found.beds.begin(), found.beds.end(), [&](const Bed& b) { return !hidden(b); });
  found.others.assign(std::make_move_iterator(shown_end), std::make_move_iterator(found.beds.end()));
  found.beds.erase(shown_end, found.beds.end());
  found.plantings.erase(std::remove_if(found.plantings.begin(), found.plantings.end(),
                                       [&](const Planting& planting) { return !planting.grows_on(day); }),
                        found.plantings.end());
  for (auto* list : {&found.beds, &found.others})
    for (Bed& bed : *list)
      if (const Block* block = found.block(bed.block)) bed.block_name = block->name;
  sort_beds(found.beds, found.blocks);
  TRY_ASSIGN(found.same, SameGround::read(book));
  make_index(found);
  TRY(add_plantings_elsewhere(book, day, found));
  index_plantings(found);
  return found;
}

Result<std::shared_ptr<const Places>> kept_places(const Book& book, const Id& farm, Date on) {
  static constexpr std::string_view kKept = "places";
  static constexpr std::string_view kReadFrom[] = {"book", "farm", "block", "bed", "planting", "interval", "limit"};
  struct Known {
    Date on;
    Places places;
  };
  auto known = std::static_pointer_cast<const Known>(book.kept(kKept));
  if (!known || known->places.farm.id != farm || known->on != on) {
    TRY_ASSIGN(Places places, read_places(book, farm, on));
    known = std::make_shared<const Known>(Known{on, std::move(places)});
    book.keep(kKept, kReadFrom, known);
  }
  return std::shared_ptr<const Places>(known, &known->places);
}

Result<Bed> read_bed(const Book& book, const Id& id) {
  TRY_ASSIGN(Bed bed,
             read_one<Bed>(book, "bed", id, "place.bed-not-here"_w, [](Rows& r, Bed& one) { read_row(r, one); }));
  Query name = book.db().query("SELECT name FROM k_block WHERE uid = ?");
  name.bind(1, bed.block);
  if (name.next()) bed.block_name = name.text(0);
  TRY(name.done());
  return bed;
}

BedSizeWritten bed_size_written(const Book& book, const Bed& bed) {
  BedSizeWritten size;
  Query query = book.db().query("SELECT size_length, size_width FROM k_bed WHERE uid = ?");
  query.bind(1, bed.id);
  if (query.next()) {
    if (auto length = parse_written(query.text(0))) size.length = std::move(*length);
    if (auto width = parse_written(query.text(1))) size.width = std::move(*width);
  }
  (void)query.done();
  const bool us = size.length  ? size.length->unit->word == "ft"
                  : size.width ? size.width->unit->word == "in" || size.width->unit->word == "ft"
                               : false;  // Corners are measured in meters.
  if (!size.length && bed.length) size.length = write_quantity(*bed.length, unit(us ? "ft" : "m"), 2);
  if (!size.width && bed.width) size.width = write_quantity(*bed.width, unit(us ? "in" : "cm"), 2);
  return size;
}

Result<std::vector<Planting>> plantings_of(const Book& book, const Id& bed) {
  TRY_ASSIGN(const SameGround& ground, SameGround::read(book));
  return plantings_of(book, ground, bed);
}

Result<std::vector<Planting>> plantings_of(const Book& book, const SameGround& ground, const Id& bed) {
  std::vector<Planting> all;
  for (const Id& one : ground.same(bed)) {
    TRY_ASSIGN(const std::vector<Planting>& more, plantings_on(book, one));
    all.insert(all.end(), more.begin(), more.end());
  }
  std::sort(all.begin(), all.end(), [](const Planting& a, const Planting& b) {
    const Date never{1, 1, 1};
    const Date da = a.started().value_or(never), db = b.started().value_or(never);
    return da != db ? da > db : a.id > b.id;
  });
  return all;
}

Id farm_of(const Book& book, const Id& record) {
  const auto part = book.part_of(record);
  return part ? part->farm : Id{};
}

}  // namespace steep
