/// enter photo, photo.

#include <algorithm>
#include <filesystem>
#include <iostream>
#include <nlohmann/json.hpp>

#include "book/called.h"
#include "book/photos.h"
#include "book/tables.h"
#include "book/told.h"
#include "native/cli.h"
#include "native/disk.h"
#include "screens/photo_words.h"

namespace steep {

Result<Outcome> enter_photo(Cli& cli, Book& book, const EnterFields& fields, const EnterAs& as, const Going& going) {
  PhotoGiven given;
  std::string of, file;
  for (const auto& [name, value] : fields) {
    if (name == "of")
      of = value;
    else if (name == "file")
      file = value;
    else if (name == "caption")
      given.caption = value;
    else if (name == "at") {
      TRY_ASSIGN(const FieldValue at, read_field(book, *find_field(*find_kind("photo"), "at"), value, as));
      if (at.type == FieldType::Instant) given.at = parse_stamp(at.text);
    } else
      return refuse(Trouble::BadInput, "enter.no-field"_w, {name, "photo", "of, file, caption, at"}, name);
  }
  if (of.empty()) return refuse(Trouble::BadInput, "enter.required"_w, {"of"}, "of");
  if (file.empty()) return refuse(Trouble::BadInput, "enter.required"_w, {"file"}, "file");
  TRY_ASSIGN(given.of, record_named(book, of, ""));
  TRY_ASSIGN(given.bytes, read_file(file));
  given.name = std::filesystem::path(file).filename().string();
  return add_photo(book, cli.platform().photos(), given, going);
}

namespace {

struct PhotoWords {
  std::string what, file;
};

Result<void> list_photos(Cli& cli, const Book& book) {
  TRY_ASSIGN(const auto photos, all_photos(book));
  const PhotoStore& store = cli.platform().photos();
  const Words words = cli.words();
  auto rows = nlohmann::ordered_json::array();
  for (const Photo& photo : photos) {
    const bool here = store.has(photo.hash);
    const std::string kind = book.kind_of(photo.of);
    if (cli.json) {
      rows.push_back({{"id", photo.id.text()},
                      {"of", photo.of.text()},
                      {"of-kind", kind},
                      {"caption", photo.caption},
                      {"name", photo.name},
                      {"type", photo.type},
                      {"size", photo.size},
                      {"sha256", hex(photo.hash)},
                      {"here", here},
                      {"copy", lane_label(book, photo.lane)},
                      {"struck", photo.struck}});
      continue;
    }
    const std::string of = kind_and_name(kind, record_name(book, photo.of), words);
    const std::string name = photo.caption.empty() ? photo.name : photo.caption;
    std::cout << photo.id.text() << "  " << of << (name.empty() ? "" : ": ") << name << "  "
              << (here ? bytes_text(photo.size, cli.units()) : photo_away(book, photo, words))
              << (photo.is_struck() ? "  " + words("record.struck"_w, {photo.struck}) : "") << "\n";
  }
  if (cli.json) std::cout << rows.dump(1) << "\n";
  return {};
}

Result<void> save_photo(Cli& cli, const Book& book, const PhotoWords& words) {
  TRY_ASSIGN(const auto photos, all_photos(book));
  const auto found =
      std::find_if(photos.begin(), photos.end(), [&](const Photo& photo) { return photo.id.text() == words.what; });
  if (found == photos.end()) return refuse(Trouble::NotFound, "photo.none"_w, {words.what});
  Result<std::string> bytes = refuse(Trouble::NotFound, "photo.not_here"_w);
  cli.platform().photos().read(found->hash, [&bytes](Result<std::string> came) { bytes = std::move(came); });
  if (!bytes) return tl::unexpected<Problem>(bytes.error());
  const std::string path = words.file.empty() ? free_path(".", photo_file_name(*found)) : words.file;
  TRY(cli.platform().write_named(path, *bytes));
  if (cli.json)
    std::cout << nlohmann::ordered_json{{"file", path}}.dump() << "\n";
  else
    std::cout << path << "\n";
  return {};
}

Result<void> do_photo(Cli& cli, const PhotoWords& words) {
  TRY_ASSIGN(const Book book, cli.read());
  return words.what.empty() ? list_photos(cli, book) : save_photo(cli, book, words);
}

}  // namespace

void add_photo_verb(Cli& cli) {
  auto* verb = cli.app.add_subcommand(
      "photo",
      "photos of this book, and which of them are here; with an id: writes that one into a file\n"
      "  steepbook photo\n  steepbook photo 06cw… -o foam.jpg");
  auto words = std::make_shared<PhotoWords>();
  verb->add_option("id", words->what, "which one to write");
  verb->add_option("-o,--output", words->file, "file to write");
  on_run(cli, verb, words, do_photo);
}

}  // namespace steep
