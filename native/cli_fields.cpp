/// fields: the kinds of records, and what one of them has, for whoever enters on the command line.

#include <iostream>
#include <nlohmann/json.hpp>

#include "base/text.h"
#include "book/kinds.h"
#include "book/told.h"
#include "native/cli.h"

namespace steep {
namespace {

std::string_view example(Dimension dimension) {
  switch (dimension) {
    case Dimension::Length: return "100 ft";
    case Dimension::Volume: return "1.5 gal";
    case Dimension::Mass: return "22 lb";
    case Dimension::Time: return "24 h";
    case Dimension::Temperature: return "68 F";
    case Dimension::Speed: return "3 mph";
    case Dimension::VolumePerArea: return "20 gal/acre";
    case Dimension::Flow: return "60 L/min";
    case Dimension::Pressure: return "40 psi";
    default: return "";
  }
}

std::string parted(std::string_view of, std::string_view by) {
  std::string text;
  for (const std::string_view one : split(of, '|'))
    text += (text.empty() ? std::string() : std::string(by)) + std::string(one);
  return text;
}

std::string amount_form(const FieldDef& field, const Words& words) {
  const std::string_view like = field.dimension ? example(*field.dimension) : std::string_view();
  return like.empty() ? words("cli.fields.amount"_w) : words("cli.fields.amount_like"_w, {like});
}

/// What may be typed there. A field that takes several forms names each.
std::string forms(const FieldDef& field, const Words& words) {
  std::vector<std::string> found;
  for (const char letter : field.types) switch (letter) {
      case 'n': found.push_back(words("cli.fields.number"_w)); break;
      case 'q': found.push_back(amount_form(field, words)); break;
      case 't': found.push_back(words("cli.fields.text"_w)); break;
      case 'w': found.push_back(parted(field.of, " | ")); break;
      case 'b': found.push_back("yes | no"); break;
      case 'd': found.push_back(words("cli.fields.day"_w)); break;
      case 'i': found.push_back(words("cli.fields.time"_w)); break;
      case 'c': found.push_back(words("cli.fields.censored"_w)); break;
      case 'l': found.push_back(words("cli.fields.list"_w)); break;
      case 'r':
        found.push_back(field.of.empty() ? words("cli.fields.any_record"_w)
                                         : words("cli.fields.record"_w, {parted(field.of, ", ")}));
        break;
      default: break;
    }
  return join(found, "; ");
}

void print_kinds(Cli& cli) {
  const Words words = cli.words();
  if (cli.json) {
    auto names = nlohmann::ordered_json::array();
    for (const KindDef& kind : kinds()) names.push_back(kind.name);
    std::cout << names.dump() << "\n";
    return;
  }
  for (const KindDef& kind : kinds())
    std::cout << kind.name << std::string(16 - kind.name.size(), ' ') << kind_and_name(kind.name, "", words) << "\n";
}

void print_fields(Cli& cli, const KindDef& kind) {
  const Words words = cli.words();
  auto list = nlohmann::ordered_json::array();
  for (const FieldDef& field : kind.fields) {
    if (field.types == "h") continue;  // Known from the file itself.
    if (cli.json) {
      list.push_back({{"name", field.key}, {"needed", field.required}, {"takes", forms(field, words)}});
      continue;
    }
    std::cout << field.key << std::string(24 - std::min<std::size_t>(field.key.size(), 22), ' ')
              << field_name(kind.name, field.key, words) << ": " << forms(field, words)
              << (field.required ? " (" + words("cli.fields.needed"_w) + ")" : "") << "\n";
  }
  if (cli.json)
    std::cout << list.dump(1) << "\n";
  else
    std::cout << words("cli.fields.how"_w) << "\n";
}

}  // namespace

void add_fields_verb(Cli& cli) {
  auto* verb = cli.app.add_subcommand("fields",
                                      "the kinds of records; with a kind: its fields and what is typed there\n"
                                      "  steepbook fields\n  steepbook fields dose");
  auto kind_name = std::make_shared<std::string>();
  verb->add_option("kind", *kind_name, "kind of record");
  verb->callback([&cli, kind_name] {
    const KindDef* kind = find_kind(*kind_name);
    if (kind)
      print_fields(cli, *kind);
    else if (kind_name->empty())
      print_kinds(cli);
    else
      cli.fail({Trouble::BadInput, "table.no-kind"_w, {*kind_name}, {}});
  });
}

}  // namespace steep
