#include "book/photos.h"

#include <algorithm>

#include "book/rows.h"
#include "book/saves.h"

namespace steep {
namespace {

using namespace std::string_view_literals;

struct TypeWords {
  PhotoType type;
  std::string_view word, ending, media;
};
constexpr TypeWords kTypes[] = {{PhotoType::Jpeg, "jpeg", ".jpg", "image/jpeg"},
                                {PhotoType::Png, "png", ".png", "image/png"},
                                {PhotoType::Webp, "webp", ".webp", "image/webp"}};

const TypeWords& words_of(PhotoType type) {
  for (const TypeWords& one : kTypes)
    if (one.type == type) return one;
  return kTypes[0];
}

/// A file's name without folders, short enough for a label.
std::string label_of(std::string_view name) {
  const auto slash = name.find_last_of("/\\");
  std::string label = clean_text(name.substr(slash == std::string_view::npos ? 0 : slash + 1));
  if (label.size() <= kMaxItem) return label;
  std::size_t end = kMaxItem;
  while (end > 0 && (label[end] & 0xC0) == 0x80) --end;  // Not inside a letter.
  return label.substr(0, end);
}

Result<std::vector<Photo>> read_photos(const Book& book, std::string_view tail, const Id& of = {}) {
  Rows rows(book, "photo", tail);
  if (!of.is_nil()) rows.query().bind(1, of);
  TRY_ASSIGN(auto all, read_all<Photo>(rows, [](const Rows& row, Photo& photo) {
               photo.of = row.reference("of");
               (void)parse_hex(row.text("file.sha256"), photo.hash);
               photo.size = static_cast<std::int64_t>(row.number("file.size").value_or(0));
               photo.type = row.text("file.type");
               photo.name = row.text("file.name");
               photo.caption = row.text("caption");
               photo.at = row.instant("at");
             }));
  for (Photo& photo : all) {
    auto first = book.db().query(
        "SELECT c.seq FROM record r JOIN change c ON c.id = r.first WHERE r.uid = ? AND r.kind = 'photo'");
    first.bind(1, photo.id);
    if (first.next()) photo.seq = first.integer(0);
    TRY(first.done());
    TRY_ASSIGN(photo.given, book.photo_given(photo.hash));
  }
  return all;
}

}  // namespace

std::optional<PhotoType> photo_type(std::string_view bytes) {
  if (bytes.starts_with("\xFF\xD8\xFF"sv)) return PhotoType::Jpeg;
  if (bytes.starts_with("\x89PNG\r\n\x1A\n"sv)) return PhotoType::Png;
  if (bytes.starts_with("RIFF"sv) && bytes.size() >= 12 && bytes.substr(8, 4) == "WEBP"sv) return PhotoType::Webp;
  return std::nullopt;
}

std::string_view photo_word(PhotoType type) { return words_of(type).word; }
std::string_view photo_ending(PhotoType type) { return words_of(type).ending; }
std::string_view photo_media(PhotoType type) { return words_of(type).media; }

std::optional<PhotoType> photo_type_of_word(std::string_view word) {
  for (const TypeWords& one : kTypes)
    if (one.word == word) return one.type;
  return std::nullopt;
}

Result<std::vector<Photo>> photos_of(const Book& book, const Id& of) {
  return read_photos(book, "WHERE \"of\" = ? ORDER BY COALESCE(at, made_ms), uid", of);
}

Result<std::vector<Photo>> all_photos(const Book& book) {
  return read_photos(book, "ORDER BY COALESCE(at, made_ms) DESC, uid");
}

Result<int> photos_between(const Book& book, const Id& farm, Moment begin, Moment end) {
  TRY_ASSIGN(const auto photos, all_photos(book));
  return static_cast<int>(std::count_if(photos.begin(), photos.end(), [&](const Photo& photo) {
    const Moment at = photo.at ? photo.at->at : photo.made.at;
    return !photo.is_struck() && (photo.part.farm.is_nil() || photo.part.farm == farm) && begin <= at && at < end;
  }));
}

Result<std::set<Hash>> photos_named(const Book& book) {
  std::set<Hash> named;
  auto query = book.db().query("SELECT DISTINCT file_sha256 FROM k_photo");
  while (query.next()) {
    Hash hash{};
    if (parse_hex(query.text(0), hash)) named.insert(hash);
  }
  TRY(query.done());
  return named;
}

std::string photo_file_name(const Photo& photo) {
  const auto type = photo_type_of_word(photo.type);
  const std::string_view ending = type ? photo_ending(*type) : std::string_view();
  const std::string stem = photo.name.substr(0, photo.name.find_last_of('.'));
  return (stem.empty() ? "photo-" + hex(photo.hash).substr(0, 8) : stem) + std::string(ending);
}

Result<PhotoType> check_photo(std::string_view bytes) {
  const auto type = photo_type(bytes);
  if (!type) return refuse(Trouble::BadInput, "photo.type"_w, {}, "file");
  if (bytes.size() > kMaxPhoto) return refuse(Trouble::BadInput, "photo.large"_w, {}, "file");
  return *type;
}

Result<PhotoCheck> check_photos(const Book& book, PhotoStore& store) {
  TRY_ASSIGN(const auto& photos, all_photos(book));
  PhotoCheck check;
  std::set<Hash> seen;
  for (const Photo& photo : photos) {
    if (!seen.insert(photo.hash).second) continue;
    Result<std::string> bytes = refuse(Trouble::NotFound, "photo.not_here"_w);
    store.read(photo.hash, [&bytes](Result<std::string> came) { bytes = std::move(came); });
    if (bytes)
      ++check.whole;
    else
      (bytes.error().kind == Trouble::Damaged ? check.damaged : check.missing).push_back(photo);
  }
  return check;
}

Result<Outcome> add_photo(Book& book, PhotoStore& store, const PhotoGiven& given, const Going& going) {
  TRY_ASSIGN(const PhotoType& type, check_photo(given.bytes));
  TRY(existing_record(book, given.of));
  const Hash hash = sha256(given.bytes);
  TRY_ASSIGN(const auto& there, photos_of(book, given.of));
  for (const Photo& photo : there)
    if (photo.hash == hash && !photo.is_struck()) return refuse(Trouble::BadInput, "photo.twice"_w, {}, "file");

  std::vector<FieldValue> fields = {reference_value("of", given.of),
                                    {"file.sha256", FieldType::ContentHash, hex(hash), {}},
                                    number_value("file.size", std::to_string(given.bytes.size())),
                                    word_value("file.type", std::string(photo_word(type)))};
  add_text(fields, "file.name", label_of(given.name));
  add_text(fields, "caption", clean_text(given.caption));
  if (given.at) fields.push_back(instant_value("at", *given.at));
  TRY_ASSIGN(std::vector<Caution> cautions, check_entry(book, "photo", fields, nullptr, going));
  TRY(store.keep(hash, given.bytes));
  Save save = new_save(book, "photo", std::move(fields));
  const Id record = save.record;
  return write_with(book, {std::move(save)}, record, std::move(cautions), going);
}

}  // namespace steep
