#pragma once
/// How a person writes numbers and gallons: settings of a device or farm.

namespace steep {

enum class DecimalMark { Point, Comma };

/// What 'gal', 'qt', 'pt', 'fl oz' mean where nothing else is said.
enum class Gallons {
  Us,
  Imperial,
  Either,  ///< The farm has both kinds of tank: ask each time.
};

}  // namespace steep
