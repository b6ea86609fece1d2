#include "demo/story.h"

#include <algorithm>
#include <cassert>

namespace steep {

std::uint64_t Chance::next() {
  state_ ^= state_ >> 12;
  state_ ^= state_ << 25;
  state_ ^= state_ >> 27;
  return state_ * 0x2545F4914F6CDD1DULL >> 16;
}

double Chance::between(double low, double high) { return low + (high - low) * below(10'000) / 9'999.0; }

Moment Story::at(int days_ago, int hour, int minute) const {
  const auto moments = zone.instants({today + -days_ago, hour, minute, 0});
  // An hour that the clock skipped: the first one after it.
  return moments.empty() ? zone.start_of(today + -days_ago) + (hour * 60 + minute) * kMinute : moments.front();
}

void Story::go_to(Moment moment) { *clock = std::max(*clock, moment); }

Id Story::operator[](std::string_view name) const {
  const auto place = ids.find(name);
  assert(place != ids.end() && "a name that the story has not introduced");
  return place == ids.end() ? Id{} : place->second;
}

std::vector<Id> Story::beds(std::string_view prefix, int from, int to) const {
  std::vector<Id> found;
  for (int i = from; i <= to; ++i) found.push_back((*this)[std::string(prefix) + std::to_string(i)]);
  return found;
}

Result<Id> Story::add(std::string_view kind, std::string_view name, std::vector<FieldValue> fields) {
  Save save;
  save.record = book->new_record();
  save.kind = kind;
  save.fields = std::move(fields);
  if (const KindDef* def = find_kind(kind); def && def->rule == PartRule::FarmBase) save.part = Part{farm, 0};
  TRY(book->write(save, ana));
  if (!name.empty()) ids[std::string(name)] = save.record;
  return save.record;
}

Story begin_story(Moment now, const Zone& zone) {
  Story story;
  story.clock = std::make_shared<Moment>();
  story.zone = zone;
  story.now = now;
  story.today = zone.local(now).date;
  return story;
}

BookNeeds story_needs(const Story& story, std::uint64_t seed, std::function<void()> committed) {
  auto chance = std::make_shared<Chance>(seed);
  auto anchor = std::make_shared<std::string>();
  BookNeeds needs;
  needs.now = [clock = story.clock, zone = story.zone] { return zone.stamp(*clock); };
  needs.random = [chance](std::span<std::uint8_t> bytes) {
    for (std::uint8_t& byte : bytes) byte = static_cast<std::uint8_t>(chance->next());
  };
  needs.read_anchor = [anchor] { return *anchor; };
  needs.write_anchor = [anchor](std::string_view text) { *anchor = text; };
  needs.committed = committed ? std::move(committed) : [] {};
  return needs;
}

Written written(std::string_view normal_form) {
  auto parsed = parse_written(normal_form);
  assert(parsed && "not a normal form");
  return *parsed;
}

Result<Id> expect(Result<Outcome> outcome) {
  if (!outcome) return tl::unexpected<Problem>(outcome.error());
  if (!outcome->written) {
    const Caution first = outcome->cautions.empty() ? Caution{} : outcome->cautions.front();
    return refuse(Trouble::Conflict, first.word, first.values, "demo: caution at " + first.place);
  }
  return outcome->record;
}

}  // namespace steep
