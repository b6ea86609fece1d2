#pragma once
/// Photos of any record. The record holds what a photo is and the SHA-256 of its bytes; the bytes lie beside the book
/// (host/photo_store.h) and may have come with the record, may come later, or never.

#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "base/sha256.h"
#include "book/book.h"
#include "book/caution.h"
#include "book/facts.h"
#include "host/photo_store.h"

namespace steep {

inline constexpr std::size_t kMaxPhoto = 25'000'000;  ///< Bytes of one photo.

enum class PhotoType { Jpeg, Png, Webp };
/// By the signature of its content: JPEG (ITU-T T.81, B.1.1.3), PNG (W3C PNG, 5.2), WebP (RFC 9649, 2.4). A name says nothing.
std::optional<PhotoType> photo_type(std::string_view bytes);
std::string_view photo_word(PhotoType type);    ///< 'jpeg', as stored.
std::string_view photo_ending(PhotoType type);  ///< '.jpg'
std::string_view photo_media(PhotoType type);   ///< 'image/jpeg'
std::optional<PhotoType> photo_type_of_word(std::string_view word);

struct Photo : RecordFacts {
  Id of;
  Hash hash{};
  std::int64_t size = 0;  ///< Bytes; 0 = not said.
  std::string type;       ///< 'jpeg' …
  std::string name;       ///< Of the file it came from: a label.
  std::string caption;
  Taken<Stamp> at;       ///< When it was taken.
  std::int64_t seq = 0;  ///< Of its first change, in RecordFacts::lane.
  /// When its bytes last went out in a file from here; 0 = never.
  Moment given;
};
/// Of one record, struck ones too, in the order they were taken or written.
Result<std::vector<Photo>> photos_of(const Book& book, const Id& of);
/// All of the book, newest first.
Result<std::vector<Photo>> all_photos(const Book& book);
/// How many that stand were taken (or written, where no time was said) from `begin` to before `end`: of the farm's records
/// and the house's.
Result<int> photos_between(const Book& book, const Id& farm, Moment begin, Moment end);
/// Hashes that records here name.
Result<std::set<Hash>> photos_named(const Book& book);

/// A name for the file when it is saved: 'foam.jpg', else 'photo-9f3a01c2.jpg'.
std::string photo_file_name(const Photo& photo);

struct PhotoGiven {
  Id of;
  std::string bytes;
  std::string name;  ///< Of the file; only a label.
  std::string caption;
  std::optional<Stamp> at;
};
/// Keeps the bytes, then writes the record: a record is never there before its photo is safe.
/// Trouble: BadInput 'photo.type', 'photo.large', 'photo.twice' (that record has it already); as of PhotoStore::keep.
Result<Outcome> add_photo(Book& book, PhotoStore& store, const PhotoGiven& given, const Going& going);
/// Which photos are here whole. Reads all of them; for stores that answer at once.
struct PhotoCheck {
  std::int64_t whole = 0;
  std::vector<Photo> missing, damaged;
};
Result<PhotoCheck> check_photos(const Book& book, PhotoStore& store);
/// What add_photo would refuse of the bytes themselves.
Result<PhotoType> check_photo(std::string_view bytes);

}  // namespace steep
