#pragma once
/// Small things that several pages draw alike.

#include "look/caution.h"
#include "look/layout.h"

namespace steep {

/// Forms and texts are no wider than a column that is read: on wide screens they stand in the middle.
/// A pen of at most `most` wide in the middle of `pen`; close it with pen.below().
Pen reading_column(const Pen& pen, float most = size::kReading);

/// Two parts of a page side by side where there is room for both, else one below the other in the middle: what is in
/// hand, and what is looked up beside it.
template <class First, class Second>
void in_two_parts(Pen& page, First&& first, Second&& second, float most = 760) {
  if (page.width() >= 960) {
    Pen left = page.column({-1, -1}, 0, 24), right = page.column({-1, -1}, 1, 24);
    first(left);
    second(right);
    page.below(left);
    page.below(right);
    return;
  }
  Pen column = reading_column(page, most);
  first(column);
  second(column);
  page.below(column);
}

}  // namespace steep
