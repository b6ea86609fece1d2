#pragma once
/// A question to a person about facts that differ, in words, and the small form that puts one.

#include <string>
#include <utility>
#include <vector>

#include "book/asking.h"
#include "screens/page.h"

namespace steep {

/// 'Ana'; 'Somebody' in the reader's language when nobody is on record.
std::string first_name(const Surroundings& around, const Id& person);
/// 'expires: what does the label say?', or 'expires: which is right?'.
std::string asked_text(const Surroundings& around, const AskedFact& ask);

struct AskingView {
  std::vector<std::string> asked;                  ///< 'Ana asks Marek · 14 May 6:40 pm: which is right?'
  std::vector<std::pair<Id, std::string>> people;  ///< Everybody but the one who looks, with the first name.
  std::string open, head, question_label, why_not;
  std::vector<std::string> go;  ///< 'Ask Marek in the next file', one a person.
  bool operator==(const AskingView&) const = default;
};
struct AskingInput {
  bool open = false;
  int person = -1;
  std::string question;
  bool operator==(const AskingInput&) const = default;
};
Result<AskingView> asking_view(const Surroundings& around, const Id& record);
std::optional<Ask> draw_asking(Pen& pen, const AskingView& view, const Id& record, AskingInput& input);

}  // namespace steep
