#pragma once
/// Cards and what stands in them: surface with a grey edge that only groups; an ink edge marks the
/// step in hand or something to answer.
///
///   Card card(pen, {.id = "brew", .head = view.brew_name, .note = view.vessel});
///   big_number(card.pen, …);

#include <memory>
#include <string_view>

#include "look/icons.h"
#include "look/layout.h"

namespace steep::look_state {
class Underlay;
}

namespace steep {

enum class CardEdge { Grey, Ink, Leaf, Beet, Due, Dashed };

struct CardSpec {
  std::string_view id = {};
  std::string_view head = {};  ///< Strong; empty = none.
  std::string_view note = {};  ///< At the right of the head, label.
  Icon note_icon = Icon::None;
  bool note_strong = false;
  Icon sign = Icon::None;  ///< Before the head: Question, Differs, CautionDue.
  CardEdge edge = CardEdge::Grey;
  bool press_whole = false;                                  ///< The whole card is one button (ink edge).
  std::string_view spoken = {};                              ///< Of press_whole.
  float across = size::kCardAcross, down = size::kCardDown;  ///< Padding.
  float gap_below = size::kCardGap;
};

class Card {
 public:
  Card(Pen& outer, const CardSpec& spec);
  ~Card();
  Card(const Card&) = delete;
  Card& operator=(const Card&) = delete;

  Pen pen;
  bool pressed() const { return pressed_; }  ///< Of press_whole.
  bool note_pressed() const { return note_pressed_; }

 private:
  Pen& outer_;
  std::unique_ptr<look_state::Underlay> underlay_;
  std::uint32_t id_;
  CardEdge edge_;
  float down_, gap_below_, top_;
  bool whole_, down_now_ = false, focused_ = false, pressed_ = false, note_pressed_ = false;
};

}  // namespace steep
