#pragma once
/// Giving a part of the book: only what one copy lacks, or only some farms and years. Whole lanes, so that chains stay complete.

#include <string>
#include <vector>

#include "screens/page.h"
#include "screens/passphrase_field.h"

namespace steep {

struct GivePageView {
  std::string title, second;
  std::string whom_head, everybody, everybody_why;
  struct Peer {
    Id copy;
    std::string name, heard;
    bool operator==(const Peer&) const = default;
  };
  std::vector<Peer> peers;
  std::string parts_head, parts_why, house;
  struct Share {  ///< A farm, or a year.
    std::string name;
    Id farm;
    int year = 0;
    bool operator==(const Share&) const = default;
  };
  std::vector<Share> farms, years;  ///< Only when there are several: else nothing is to be chosen.
  std::string years_head;
  std::string photos_label;             ///< 'Photos too (23, 41 MB)'; empty = there are none to give.
  std::vector<std::string> photos_why;  ///< What is left out.
  std::string lock_label, passphrase_label;
  std::vector<std::string> lock_why;  ///< What locking means; shown once it is chosen.
  std::string go, why_not;
  bool can_give = true;
  std::vector<Part> all_parts;  ///< Of the lanes here.
  bool shares = false, unsaved = false;
  bool operator==(const GivePageView&) const = default;
};

struct GivePageInput : PageInput {
  int whom = -1;                   ///< −1 = everybody.
  std::vector<bool> farms, years;  ///< Left out when false; empty = all.
  bool photos = true;
  bool lock = false;
  PassphraseInput passphrase{.passphrase = {}, .shown = true};  ///< Seen as it is typed: a slip locks for good.
  bool operator==(const GivePageInput&) const = default;
};

/// What would be given, as chosen: the house always, then the farms and years that are ticked. Photos are GiveFile's matter.
GiveRequest give_request(const GivePageView& view, const GivePageInput& input);

Result<GivePageView> give_page_view(const Surroundings& around, const GivePageInput& input);
std::optional<Ask> draw_give_page(const GivePageView& view, GivePageInput& input, const Furniture& furniture);

}  // namespace steep
