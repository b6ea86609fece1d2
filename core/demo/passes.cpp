#include "book/pass_commands.h"
#include "book/pass_end.h"
#include "book/pass_start.h"
#include "book/record_commands.h"
#include "demo/season.h"

namespace steep {
namespace {

constexpr int kSecondsPerBed = 39;  // 100 ft at the calibrated 1.75 mph
constexpr int kSecondsToNext = 14;

WeatherGiven weather(Story& story, bool inside) {
  WeatherGiven given;
  given.where = inside ? "in the tunnel" : "at the lane";
  if (inside) {
    given.wind = written("0 mph");
    given.sky = "inside";
  } else {
    static constexpr std::string_view kWinds[] = {"3 mph", "4 mph", "5 mph"};
    given.wind = written(kWinds[story.chance.below(3)]);
    given.direction = story.chance.below(2) == 0 ? "SW" : "W";
    given.sky = story.chance.below(2) == 0 ? "clear" : "some cloud";
  }
  given.temperature = written(inside ? "72 degF" : story.chance.below(2) == 0 ? "66 degF" : "64 degF");
  return given;
}

Result<Id> start(Story& story, const PassTold& told, const Going& going) {
  StartChoices choices;
  choices.farm = story.farm;
  choices.person = going.person;
  choices.rig = story[told.rig];
  choices.aim = Aim::Leaf;
  choices.no_tea = told.brew.empty();
  if (!told.brew.empty()) choices.brew = story[told.brew];
  if (!told.lot.empty()) choices.products = {{story[told.lot], written(told.amount)}};
  for (const std::string& bed : told.beds) choices.beds.push_back(story[bed]);
  if (!told.brew.empty()) choices.tea_rate = written("20 gal/acre");
  choices.spray_rate = written("45 gal/acre");
  choices.rate_area = RateArea::BedTop;
  choices.water_source = story["well"];
  choices.walk = Walk::SameEnd;
  choices.from_far_end = false;
  choices.weather = weather(story, told.inside);
  TRY_ASSIGN(StartSheet sheet, start_sheet(*story.book, choices, *story.clock));
  return expect(start_pass(*story.book, sheet.chosen, going));
}

/// The tank does not hold what the bed in hand still takes: refill where it runs dry.
Result<bool> refill_if_dry(Story& story, const Id& pass, const PassState& state, const Going& going) {
  if (!state.dry_bed || state.dry_bed != state.in_hand) return false;
  // Tanks are filled to hundredths of a gallon: a last foot of bed is not worth a walk to the well.
  const auto& needed = state.beds[*state.in_hand].spray;
  if (needed && state.tank.can_spray && state.tank.can_spray->si() > 0.93 * needed->si()) return false;
  TRY_ASSIGN(const RefillSheet& sheet, refill_sheet(*story.book, pass, {}, {}, *story.clock));
  const PassBed& bed = state.beds[*state.in_hand];
  const double feet = sheet.proposed.feet();
  story.wait(static_cast<std::int64_t>(kSecondsPerBed * kSecond * feet / 100));
  RefillRequest request;
  request.pass = pass;
  request.bed = bed.bed;
  request.at = write_quantity(sheet.proposed, unit("ft"), 0);
  request.left = write_quantity(sheet.left, unit("gal"), 2);
  request.brew = sheet.brew;
  request.water_source = sheet.water_source;
  if (sheet.next) {
    if (!sheet.brew.is_nil()) request.tea = write_quantity(sheet.next->tea, unit("gal"), 2);
    request.water = write_quantity(sheet.next->water, unit("gal"), 2);
  }
  TRY(expect(refill(*story.book, request, going)));
  story.wait(6 * kMinute);
  return true;
}

OnBed special(const PassTold& told, std::string_view bed) {
  for (const auto& [name, what] : told.special)
    if (name == bed) return what;
  return OnBed::Done;
}

/// Ana notes a bed again in the evening, from memory, sees it, and strikes the second line.
Result<void> write_twice(Story& story, const Id& dose, const Going& going) {
  TRY_ASSIGN(const auto& first, story.book->record(dose));
  Save again;
  again.record = story.book->new_record();
  again.kind = "dose";
  for (const Group& group : first->groups)
    for (FieldValue field : group.heads.front().fields) {
      if (field.type == FieldType::Instant)
        if (const auto stamp = parse_stamp(field.text))
          field.text = stamp_text({stamp->at + kMinute, stamp->offset_minutes});
      again.fields.push_back(std::move(field));
    }
  TRY(story.book->write(again, going.person));
  story.wait(3 * kMinute);
  TRY(expect(strike(*story.book, again.record, kLoggedTwice, going)));
  return {};
}

Result<void> one_bed(Story& story, const PassTold& told, const Id& pass, const PassBed& bed, std::vector<Id>& twice,
                     const Going& going) {
  const auto walk = static_cast<std::int64_t>(kSecondsPerBed * kSecond * bed.open_length().feet() / 100);
  const OnBed what = special(told, bed.name);
  if (what == OnBed::SkippedWet) {
    story.wait(20 * kSecond);
    TRY(expect(skip_bed(*story.book, pass, bed.bed, "wet", going)));
    return {};
  }
  story.wait(walk);
  if (what == OnBed::NearHalf) {
    TRY(expect(bed_half(*story.book, pass, bed.bed, false, going)));
    story.wait(kSecondsToNext * kSecond);
    TRY(expect(skip_bed(*story.book, pass, bed.bed, "covered", going)));
    return {};
  }
  if (what == OnBed::UndoneOnce) {
    TRY(expect(bed_done(*story.book, {pass, bed.bed, {}, {}, {}, {}}, going)));
    story.wait(5 * kSecond);
    TRY(expect(undo_press(*story.book, pass, going)));
    story.wait(4 * kSecond);
  }
  TRY_ASSIGN(const Id dose, expect(bed_done(*story.book, {pass, bed.bed, {}, {}, {}, {}}, going)));
  if (what == OnBed::WrittenTwice) twice.push_back(dose);
  story.wait(kSecondsToNext * kSecond);
  return {};
}

}  // namespace

Result<void> play_pass(Story& story, const PassTold& told) {
  const Going going{story[told.who], {}, false};
  TRY_ASSIGN(const Id pass, start(story, told, going));
  story.ids["last pass"] = pass;
  story.wait(kMinute);
  std::vector<Id> twice;
  int presses = 0;
  for (;;) {
    if (++presses > 200) return refuse(Trouble::Conflict, "demo.endless"_w);
    TRY_ASSIGN(const PassState& state, pass_state(*story.book, pass, {}, *story.clock));
    if (!state.in_hand) break;
    TRY_ASSIGN(const bool refilled, refill_if_dry(story, pass, state, going));
    if (!refilled) TRY(one_bed(story, told, pass, state.beds[*state.in_hand], twice, going));
  }
  story.wait(2 * kMinute);
  TRY_ASSIGN(const EndSheet& sheet, end_sheet(*story.book, pass, *story.clock));
  EndRequest request;
  request.pass = pass;
  request.left = write_quantity(sheet.left, unit("gal"), 2);
  request.where = sheet.left.gallons() > 0.005 ? LeftOver::PouredElsewhere : LeftOver::NothingLeft;
  request.place_words = "heap H9";
  request.washed = true;
  request.wash_method = "3 rinses, well water";
  request.rinsed = true;
  request.weather = weather(story, told.inside);
  TRY(expect(end_pass(*story.book, request, going)));
  story.wait(5 * kMinute);
  for (const Id& dose : twice) TRY(write_twice(story, dose, going));
  return {};
}

}  // namespace steep
