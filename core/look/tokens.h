#pragma once
/// The colours and sizes of Steepbook. No hex value and no text size stands outside this pair of files.

#include <cstdint>

namespace steep {

/// Red in the lowest byte, then green, blue, alpha: Dear ImGui's order.
using Color = std::uint32_t;
constexpr Color rgb(std::uint32_t hex) {
  return 0xFF000000u | (hex & 0xFF) << 16 | (hex & 0xFF00) | (hex >> 16 & 0xFF);
}
/// The same colour at `alpha` 0–1 of its own opacity.
Color faded(Color color, float alpha);

enum class Theme { Day, Dusk };

/// Every *text* pair has a contrast of 7 or more; a test measures them. Pairs not told apart by
/// contrast (`due` on surface, `beet` on `leaf`, tank liquid on dusk surface) always have a `line`
/// edge between them.
struct Tokens {
  Color ground;   ///< Page behind cards.
  Color surface;  ///< Cards, bars, sheets.
  Color well;     ///< Inset, selected row, night band in charts.
  Color ink;      ///< Text; the chosen or current thing.
  Color ink2;     ///< Second text.
  Color rule;     ///< Grey edges, grid lines; not on `well` (use `line` there).
  Color line;     ///< Edges of what can be pressed.
  Color stake;    ///< Bed number tag, and its text.
  Color onstake;
  Color pri;  ///< Primary button, its text, its edge.
  Color onpri;
  Color priline;
  Color leaf;  ///< Treated, done, saved, and text on it.
  Color onleaf;
  Color due;  ///< Due, late, caution, and text on it.
  Color ondue;
  Color duetext;  ///< 'Due' as text on ground or surface.
  Color beet;     ///< Holds, not saved (also as text), and a sign on it.
  Color onbeet;
  Color tapegap;   ///< Between the stripes of tape.
  Color water;     ///< Readings line, water.
  Color tea;       ///< Brew lines, trace links.
  Color steep[4];  ///< Ribbon at 0, 35, 75, 100 % of the way to ready.
  Color tank_top;  ///< Liquid at the top and at the foot of the tank, and text on it.
  Color tank_foot;
  Color ontank;
  Color sky;    ///< Day band.
  Color night;  ///< Night band, and a sign on it.
  Color onnight;
};

const Tokens& tokens(Theme theme);

/// Contrast of two opaque colours, 1–21. Source: WCAG 2.2, definitions of 'contrast ratio' and
/// 'relative luminance' (W3C Recommendation, 2023).
double contrast(Color a, Color b);

/// Text styles; sizes in dp at text size 100 %, line heights beside them.
enum class TextStyle {
  Xl,           ///< 56 / 56 bold: bed in hand, the pass readout.
  L,            ///< 40 / 44 bold: one per card.
  M,            ///< 28 / 32 bold: groups of numbers, hold times.
  Title,        ///< 22 / 28 bold.
  FirstTitle,   ///< 24 / 28 bold: a tab's first screen.
  Button,       ///< 20 / 24 bold: primary buttons.
  SmallButton,  ///< 16 / 20 bold: other buttons.
  Strong,       ///< 16 / 22 bold.
  Body,         ///< 16 / 22.
  LabelStrong,  ///< 14 / 18 bold.
  Label,        ///< 14 / 18.
  TickStrong,   ///< 13 / 16 bold: tab words, column heads.
  Tick,         ///< 13 / 16: chart axes. Nothing smaller on a screen.
};

/// Sizes in dp.
namespace size {
constexpr float kGrid = 8;
constexpr float kMargin = 16, kMarginNarrow = 12, kMarginDesktop = 24;  ///< Screen margin; narrow below 390 wide.
constexpr float kCardAcross = 16, kCardDown = 12, kCardGap = 10, kGroupGap = 16;
constexpr float kRadiusStrip = 5, kRadiusChip = 6, kRadiusCard = 8, kRadiusButton = 10, kRadiusGiant = 12,
                kRadiusSheet = 16;
constexpr float kEdgePress = 2, kEdgeHand = 2.5f, kEdgeGroup = 1.5f, kEdgeTable = 1, kEdgeTotal = 2;
constexpr float kTouch = 48, kTouchGap = 8, kPointerTarget = 40;
constexpr float kPrimary = 64, kSecondary = 48, kDone = 100, kPassButton = 68, kKey = 56;
constexpr float kTopBar = 64, kBottomBar = 72, kRail = 92, kRailLandscape = 72;
constexpr float kListPanel = 340, kSheetPanel = 420, kActionColumn = 340, kContentEnd = 1600;
constexpr float kReading = 640;          ///< A column that is read, and the buttons below it, on wide screens.
constexpr float kSlop = 12;              ///< A finger that moved more has not tapped.
constexpr double kDoublePress_s = 0.35;  ///< Two presses on one button within this count once.
constexpr double kKeyBounce_s = 0.07;    ///< The same for number keys and steppers, where quick presses are meant.
}  // namespace size

}  // namespace steep
