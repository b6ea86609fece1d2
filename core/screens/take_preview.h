#pragma once
/// A handover file on its way in: reading it, what it would bring, applying it, what came.

#include <string>
#include <vector>

#include "handover/take.h"
#include "screens/page.h"
#include "screens/passphrase_field.h"

namespace steep {

struct TakePreviewView {
  enum class Stage { None, Locked, Opening, Reading, Planned, Applying, Done, Failed, OtherBook } stage = Stage::None;
  std::string title, second;
  double share = 0;          ///< 0–1 while working.
  std::string working;       ///< 'Reading the file', 'Taking it in'
  std::string head, detail;  ///< '19 changes are new here'
  struct Section {           ///< 'By copy', 'By person' …: what, how many.
    std::string head;
    std::vector<std::pair<std::string, std::string>> lines;
    bool operator==(const Section&) const = default;
  };
  std::vector<Section> sections;
  std::string differs_head;          ///< 'To settle afterwards: 2'; empty = nothing would differ.
  std::vector<std::string> differs;  ///< 'Lot K-19: how much came in'
  std::vector<std::string> photos;   ///< '2 photos come with it (3.1 MB)'
  std::vector<std::string> cautions;
  std::string go, safe;  ///< Buttons; go may be empty.
  std::string join_label, join_error;
  std::string passphrase_label;
  bool to_merge = false;  ///< Something is to be looked at afterwards.
  bool operator==(const TakePreviewView&) const = default;
};

struct TakePreviewInput : PageInput {
  std::string join;
  PassphraseInput passphrase;  ///< Of Locked.
  bool operator==(const TakePreviewInput&) const = default;
};

/// 'quantity', 'struck on one side, changed on the other': what would be to settle in a record.
std::string plan_differs_text(const PlanDiffers& one, const Words& words);

Result<TakePreviewView> take_preview_view(const Surroundings& around, const TakePreviewInput& input);
std::optional<Ask> draw_take_preview(const TakePreviewView& view, TakePreviewInput& input, const Furniture& furniture);

}  // namespace steep
