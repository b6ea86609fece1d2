/// What other copies, reports and questions call this copy of the book.

#include <iostream>

#include "base/text.h"
#include "book/saves.h"
#include "native/cli.h"

namespace steep {
namespace {

Result<void> do_copy(Cli& cli, const std::string& name) {
  if (name.empty()) {
    TRY_ASSIGN(const Book book, cli.read());
    const std::string label = book.copy_label();
    std::cout << (label.empty() ? cli.words()("taking.unnamed_copy"_w) : label) << "\n";
    return {};
  }
  TRY_ASSIGN(Book book, cli.open());
  const std::string label = clean_text(name);
  if (label.empty()) return refuse(Trouble::BadInput, "enter.empty"_w, {"name"}, "name");
  return book.set_copy_label(label);
}

}  // namespace

void add_copy_verb(Cli& cli) {
  auto* verb = cli.app.add_subcommand(
      "copy",
      "name this copy, as files, reports and questions about it call it; without a name: say it\n"
      "  steepbook copy 'Office'\n  steepbook copy");
  auto name = std::make_shared<std::string>();
  verb->add_option("name", *name, "'Office', \"Marek's phone\"");
  on_run(cli, verb, name, do_copy);
}

}  // namespace steep
