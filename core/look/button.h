#pragma once
/// Buttons. Ink outline = you can press it; filled = the one chosen or the one main action.

#include <initializer_list>
#include <span>
#include <string_view>

#include "look/icons.h"
#include "look/layout.h"

namespace steep {

enum class ButtonKind {
  Primary,    ///< 64 tall, leaf-dark; one on a screen.
  Secondary,  ///< 48 tall, ink outline on surface.
  Filled,     ///< 48 tall, ink block.
  Quiet,      ///< 48 tall, no outline: word (and chevron) alone: 'Later', 'All beds ›'.
  Done,       ///< 100 tall, two lines, very large: the pass.
};

struct ButtonSpec {
  std::string_view id = {};
  std::string_view text = {};
  std::string_view second = {};  ///< Smaller second line.
  Icon icon = Icon::None;
  Icon icon_after = Icon::None;  ///< Right of the text (chevron).
  ButtonKind kind = ButtonKind::Secondary;
  std::string_view spoken = {};  ///< Empty = text, and second after a comma.
  bool enabled = true;
  std::string_view why_not = {};  ///< Of a disabled one: drawn in small below or inside, and spoken.
  bool file_pick = false;         ///< The page lays a real file input over it (Role::FilePick).
  PickKind picks = PickKind::File;
};

/// Height it takes at this width: words may wrap to two lines in buttons of 64 and more.
float button_height(float width, const ButtonSpec& spec);
float button_width(const ButtonSpec& spec);  ///< Natural width on one line, padding included.
bool button(const Box& box, const ButtonSpec& spec);
bool button(Pen& pen, const ButtonSpec& spec);
/// Two or more side by side, or below each other when they don't fit with their words. Widths are
/// shares. Index of the pressed one, or −1. Heights are those of the tallest.
int buttons(Pen& pen, std::span<const ButtonSpec> specs, std::span<const float> shares = {}, float gap = 10);
int buttons(Pen& pen, std::initializer_list<ButtonSpec> specs, std::initializer_list<float> shares = {},
            float gap = 10);

/// A 48 × 48 button of one icon: back, close, plus, minus. Needs a spoken name.
bool icon_button(const Box& box, std::string_view id, Icon icon, std::string_view spoken, bool outlined = false,
                 bool enabled = true);

/// The row of four of the pass: icon, word, second line; 64–68 tall. Order is mirrored for the left hand.
struct PassButton {
  std::string_view id = {}, word = {}, second = {};
  Icon icon = Icon::None;
  bool enabled = true;
  std::string_view spoken = {};  ///< Empty = word, second.
};
int pass_buttons(Pen& pen, std::span<const PassButton> four);
int pass_buttons(const Box& box, std::span<const PassButton> row);

/// A large choice with a picture or icon at the left and two lines ('Start a farm here', the answers of 'Same bed, twice?').
struct BigChoice {
  std::string_view id = {}, first = {}, second = {};
  Icon icon = Icon::None;
  bool primary = false;  ///< Leaf-dark and taller: the first and large one.
  int strips = 0;        ///< Two-strip drawing instead of the icon: 1 same work, 2 each a part, 3 both.
  std::string_view spoken = {};
  bool enabled = true;
  bool file_pick = false;
};
bool big_choice(Pen& pen, const BigChoice& choice);

}  // namespace steep
