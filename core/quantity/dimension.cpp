#include "quantity/dimension.h"

#include <array>
#include <utility>

namespace steep {
namespace {

constexpr std::array<std::pair<Dimension, std::string_view>, 19> kWords = {{
    {Dimension::Number, "number"},
    {Dimension::Share, "share"},
    {Dimension::Count, "count"},
    {Dimension::Length, "length"},
    {Dimension::Area, "area"},
    {Dimension::Volume, "volume"},
    {Dimension::Mass, "mass"},
    {Dimension::Time, "time"},
    {Dimension::Temperature, "temperature"},
    {Dimension::TemperatureDifference, "temperature-difference"},
    {Dimension::Pressure, "pressure"},
    {Dimension::Speed, "speed"},
    {Dimension::Flow, "flow"},
    {Dimension::VolumePerArea, "volume-per-area"},
    {Dimension::MassPerArea, "mass-per-area"},
    {Dimension::MassPerVolume, "mass-per-volume"},
    {Dimension::VolumePerVolume, "volume-per-volume"},
    {Dimension::FlowPerVolume, "flow-per-volume"},
    {Dimension::Conductivity, "conductivity"},
}};

}  // namespace

std::string_view dimension_word(Dimension dimension) {
  for (const auto& [value, word] : kWords) {
    if (value == dimension) return word;
  }
  return {};
}

std::optional<Dimension> dimension_from_word(std::string_view word) {
  for (const auto& [value, stored] : kWords) {
    if (stored == word) return value;
  }
  return std::nullopt;
}

}  // namespace steep
