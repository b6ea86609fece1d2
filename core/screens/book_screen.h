#pragma once
/// The book itself: is everything saved, what has been handed over, giving and taking files, papers.

#include <string>
#include <vector>

#include "screens/page.h"

namespace steep {

struct BookScreenView {
  std::string title, second;
  std::string saved_head, saved_detail;
  bool all_saved = true;
  std::string storage_caution;  ///< The system may clear this storage; empty = no worry known.
  // Handover, in three words.
  std::string handover, works_offline;
  std::string not_given_number, not_given, not_given_note;
  std::string given_number, given, given_note;
  std::string confirmed, confirmed_note;
  bool any_confirmed = false;
  std::string give, give_why_not, take;
  bool can_give = false, shares = false;
  std::vector<std::string> photos;  ///< 'One photo goes along (3 kB)'; empty = none does.
  struct Peer {
    Icon icon = Icon::Phone;
    std::string label, heard;
    bool operator==(const Peer&) const = default;
  };
  std::vector<Peer> peers;
  // Ways onward.
  std::string questions, questions_detail, report, report_detail, work, work_detail, settings;
  // Do two copies hold the same? A code to read to each other.
  std::string same_head, digest, digest_why, digest_aside;  ///< `digest_aside`: files are set aside here.
  std::string give_part;
  // What befell this copy.
  std::string notice, notice_text, notice_read;
  std::string locked, locked_text,
      locked_open;  ///< A locked file of the watched folder that waits for its passphrase; empty = none.
  bool unsaved = false;
  bool operator==(const BookScreenView&) const = default;
};

struct BookScreenInput : PageInput {
  bool operator==(const BookScreenInput&) const = default;
};

Result<BookScreenView> book_screen_view(const Surroundings& around, const BookScreenInput& input);
std::optional<Ask> draw_book_screen(const BookScreenView& view, BookScreenInput& input, const Furniture& furniture);

}  // namespace steep
