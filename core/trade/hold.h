#pragma once
/// When may a bed be picked again, and when may people go in? For one planting on one stretch of bed.
///
/// Every treatment brings its waits; the longest governs, and a wait that nobody knows is a hold, not
/// zero. The answer says which rule governs and lists all others. It never says that a bed is free:
/// it says what the record shows, and defers to labels, local rules and the farm's certifier.
///
/// Source:   harvest waits: a farm's own rule for tea, product labels, [NOP-203] 7 CFR 205.203(c) for
///           'not less than N days', where day N itself is allowed. Entry waits: hours from the end of
///           the application, as labels state them.
/// Formula:  by dates: the first day is local date of the finish + days; by hours: finish + 24 h × days.
/// Changes:  a wait under 3 days counted by dates never ends before its 24 h × days have passed (a spray
///           at 18:20 with '1 day' would else end after 6 hours); from 3 days on never before 48 h, so that
///           a longer wait never ends earlier in the night of the spring clock change.
/// Limits:   dates are civil dates of the farm's zone; leap days and clock changes are real days and hours.
/// Accuracy: exact. Amounts below 0 or above kLongestWaitDays cannot be right and count as not known.

#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "base/moment.h"
#include "base/word_id.h"
#include "base/zone.h"
#include "trade/aim.h"

namespace steep {

/// How a farm counts waiting days until harvest. Entry waits always count in hours.
enum class DayCounting { Dates, Hours };

constexpr int kLongestWaitDays = 3660;  ///< Ten years: longer than any wait of label or rule.

/// One reading of one wait.
struct Wait {
  enum class Kind {
    Days,        ///< `amount` days.
    Hours,       ///< `amount` hours, whatever the farm counts in.
    Undecided,   ///< The farm has not decided its rule: a hold with the button 'Set the farm's rule'.
    NotOnLabel,  ///< The crop is not on the product's label: a hold, 'no harvest date known: ask'.
    NotKnown,    ///< The label's wait was not written down: a hold.
    ByHand,      ///< A hold that a person set, until that person or another releases it.
  };
  Kind kind = Kind::NotKnown;
  int amount = 0;
  bool operator==(const Wait&) const = default;

  static Wait days(int n) { return {Kind::Days, n}; }
  static Wait hours(int n) { return {Kind::Hours, n}; }
  static Wait undecided() { return {Kind::Undecided, 0}; }
  static Wait not_on_label() { return {Kind::NotOnLabel, 0}; }
  static Wait not_known() { return {Kind::NotKnown, 0}; }
  static Wait by_hand() { return {Kind::ByHand, 0}; }

  /// Does it end at a time that can be computed?
  bool is_known() const;
};

/// Where a wait comes from. Given back untouched, for the line 'rule, section, date' on screen and paper.
struct RuleSource {
  enum class Kind { FarmTea, Label, Standard, ByHand };
  Kind kind = Kind::Label;
  std::string name;           ///< The farm, the product and crop, the standard, or the person.
  std::string section;        ///< Section of label or standard; may be empty.
  std::optional<Date> dated;  ///< Date of its text, or of the decision.
  bool operator==(const RuleSource&) const = default;
};

/// A rule and how long it asks to wait. More than one reading while copies disagree about it.
struct RuleWait {
  RuleSource source;
  std::vector<Wait> readings;  ///< None at all counts as one that is not known.
};

/// What was done to this stretch, as far as waits go.
struct Treatment {
  std::string key;                ///< The caller's name for it (a dose's id); given back.
  std::vector<Moment> finishes;   ///< The bed's own finish; several while in dispute, none = not known.
  std::vector<RuleWait> harvest;  ///< For the planting in question; see `tea_rule_waits` for tea.
  std::vector<RuleWait> entry;
  bool in_question = false;  ///< Same bed twice, struck while edited elsewhere …: counts, and is to settle.
};

/// One wait of one treatment, at its most cautious.
struct Contributor {
  std::size_t treatment = 0;     ///< Index into the treatments given.
  std::size_t rule = 0;          ///< Index into its `harvest` or `entry`.
  Wait wait;                     ///< The most cautious reading.
  std::optional<Moment> finish;  ///< The finish that it counts from; nullopt: not known.
  std::optional<Moment> until;   ///< nullopt: no end known.
  bool in_dispute = false;       ///< More than one reading of wait or finish, or in question.
};

struct Hold {
  enum class State {
    None,      ///< No treatment brings a wait.
    Until,     ///< Ends at `until`.
    NotKnown,  ///< At least one wait has no known end: held until a person decides.
  };
  State state = State::None;
  /// The latest known end; with NotKnown it is 'not before', and nullopt when no end at all is known.
  std::optional<Moment> until;
  /// Local day of `until`: the first day on which picking (or entry) comes into question.
  std::optional<Date> first_day;
  /// True when `until` is the very start of `first_day`, so that the day alone can be shown.
  bool whole_day = false;
  /// All waits, the governing one first: unknown ends before known ones, then by latest end.
  std::vector<Contributor> contributors;
  /// Treatments whose facts are in dispute: 'held: 2 entries to settle'.
  int to_settle = 0;

  const Contributor* governing() const { return contributors.empty() ? nullptr : &contributors.front(); }
  /// Does it hold at `now`? A hold ends at `until` itself.
  bool holds_at(Moment now) const { return state == State::NotKnown || (state == State::Until && now < *until); }
};

/// First harvest of one planting on one stretch.
Hold harvest_hold(std::span<const Treatment> treatments, DayCounting counting, const Zone& zone);

/// First entry of people to one stretch: hours from the bed's own finish; days of an entry wait are 24 h.
Hold entry_hold(std::span<const Treatment> treatments, const Zone& zone);

/// End of one known wait, on the whole minute that is not before it. `wait.is_known()` must hold.
Moment wait_end(Wait wait, Moment finish, DayCounting counting, const Zone& zone);

/// The wait that the farm's rule after tea on leaves brings: none for tea on soil or as drench. While
/// copies disagree about the aim, one reading 'leaf' is enough. `rule` holds the farm's decision, or
/// `Wait::undecided()`, or both while copies disagree.
std::optional<RuleWait> tea_rule_wait(std::span<const Aim> aims, RuleSource source, std::vector<Wait> rule);

/// Of several holds (stretches of a bed, its plantings) the one that lets go last; State::None for none.
/// Contributors of all are kept, with the indices of their own lists.
Hold latest_hold(std::span<const Hold> holds);

/// Sentence for a wait without a known end: 'hold.undecided', 'hold.not-on-label', …
WordId unknown_wait_word(Wait::Kind kind);

}  // namespace steep
