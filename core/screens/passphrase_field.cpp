#include "screens/passphrase_field.h"

#include "look/choice.h"
#include "look/field.h"

namespace steep {

void passphrase_field(Pen& pen, const Words& words, std::string_view label, PassphraseInput& input) {
  text_field(pen, {.id = "passphrase", .label = label, .kind = input.shown ? FieldKind::Code : FieldKind::Secret},
             input.passphrase.typed);
  check_row(pen, "shown", words("lock.show"_w), input.shown);
}

}  // namespace steep
