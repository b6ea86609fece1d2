#include "trade/work_times.h"

namespace steep {

std::vector<Moment> moments_of(const Zone& zone, const Value& value) {
  std::vector<Moment> moments = zone.instants(value.time);
  if (value.offset_minutes)
    std::erase_if(moments, [&](Moment at) { return zone.offset_minutes(at) != *value.offset_minutes; });
  return moments;
}

Result<Moment> moment_of(const Zone& zone, const Value& value, std::string_view place) {
  const auto moments = moments_of(zone, value);
  if (moments.empty())
    return refuse(Trouble::Ask, value.offset_minutes ? "work.no-such-offset"_w : "hold.no-such-time"_w, {value.text},
                  place);
  if (moments.size() == 1) return moments.front();
  const auto with_offset = [&](Moment at) { return value.text + " " + offset_text(zone.offset_minutes(at)); };
  return refuse(Trouble::Ask, "work.time-came-twice"_w,
                {value.text, with_offset(moments.front()), with_offset(moments.back())}, place);
}

std::string local_text(const Zone& zone, Moment at) {
  std::string text = stamp_text(zone.stamp(at)).substr(0, 16);
  text[10] = ' ';
  return text;
}

}  // namespace steep
