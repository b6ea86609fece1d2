/// Handover files: written, read, verified, refused in words, taken in any order and any number of times.

#include <doctest/doctest.h>

#include <sqlite3.h>
#include <zlib.h>

#include "book/book_file.h"
#include "handover/file_reader.h"
#include "handover/flat_object.h"
#include "handover_copies.h"

using namespace steep;
using namespace steep::testing;

namespace {

Result<TakePlan> plan_of(Copy& copy, File file, std::string join = {}) {
  TakeJob job(*copy.book, std::move(file), std::move(join));
  while (job.stage() == TakeJob::Stage::Reading) job.step(1000);
  if (job.stage() == TakeJob::Stage::Failed) return tl::unexpected<Problem>(job.problem());
  return job.plan();
}

std::string unpacked(const File& file) {
  auto source = LineSource::open(file.bytes);
  REQUIRE(source);
  std::string text;
  for (;;) {
    const auto line = source->next();
    REQUIRE(line);
    if (!*line) return text;
    (text += **line) += '\n';
  }
}

std::string gzip(std::string_view text) {
  Packer packer;
  packer.add(text);
  return packer.finish();
}

WordId refusal(Copy& copy, std::string bytes) {
  const auto digest = copy.book->digest();
  const auto changes = copy.book->change_count();
  const auto taken = take_in(*copy.book, {"x.steepbook", std::move(bytes), ""});
  REQUIRE_FALSE(taken);
  CHECK(copy.book->digest() == digest);
  CHECK(copy.book->change_count() == changes);
  return taken.error().word;
}

struct TwoPhones {
  Copy ana{"Ana's phone", 1}, marek{"Marek's phone", 2};
  Id kelp;
  TwoPhones() {
    ana.start();
    kelp = ana.add("material", {text_field_value("name", "Liquid kelp")});
    marek.take(ana.give_all());
    marek.person = ana.person;
  }
};

}  // namespace

TEST_CASE("handover: a file brings the whole book, and nothing the second time") {
  TwoPhones phones;
  CHECK(phones.marek.book->id() == phones.ana.book->id());
  CHECK(phones.marek.book->name() == "Alder Reach");
  CHECK(phones.marek.book->digest() == phones.ana.book->digest());
  const auto counter = phones.marek.book->change_count();
  const auto again = phones.marek.take(phones.ana.give_all());
  CHECK(again.added == 0);
  CHECK(phones.marek.book->change_count() == counter);
}

TEST_CASE("handover: gzip and plain carry the same lines") {
  TwoPhones phones;
  const File packed = phones.ana.give_all(), plain = phones.ana.give_all(Packing::Plain);
  CHECK(unpacked(packed) == plain.bytes);
  CHECK(packed.name.ends_with(".steepbook"));
  CHECK(plain.name.ends_with(".steepbook.txt"));
  CHECK(file_nature(packed.bytes) == FileNature::Gzip);
  CHECK(file_nature(plain.bytes) == FileNature::Lines);
}

TEST_CASE("handover: merging makes no change, and both ways end the same (I2, I8)") {
  TwoPhones phones;
  phones.ana.add("vessel", {text_field_value("name", "Blue bucket")});
  phones.marek.add("vessel", {text_field_value("name", "Tote")});
  exchange(phones.ana, phones.marek);
  CHECK(phones.ana.book->digest() == phones.marek.book->digest());
  const auto before = phones.ana.book->change_count();
  exchange(phones.ana, phones.marek);
  CHECK(phones.ana.book->change_count() == before);
  CHECK(unpacked(phones.ana.give_all()).find("Tote") != std::string::npos);
}

TEST_CASE("handover: one group set on two copies differs, the same value does not (merge scenarios 3 and 4)") {
  TwoPhones phones;
  const Id lot =
      phones.ana.add("lot", {reference_value("material", phones.kelp), quantity_value("quantity", "16 fl oz")});
  phones.marek.take(phones.ana.give_all());
  SUBCASE("different amounts") {
    phones.ana.change(lot, {quantity_value("quantity", "1.5 gal")});
    phones.marek.change(lot, {quantity_value("quantity", "32 fl oz")});
    exchange(phones.ana, phones.marek);
    const auto on_ana = phones.ana.book->record(lot), on_marek = phones.marek.book->record(lot);
    REQUIRE(on_ana);
    REQUIRE(on_marek);
    CHECK((**on_ana).differs());
    CHECK((**on_ana).field("quantity")->text == (**on_marek).field("quantity")->text);
  }
  SUBCASE("one amount in two spellings") {
    phones.ana.change(lot, {quantity_value("quantity", "1.5 gal")});
    phones.marek.change(lot, {quantity_value("quantity", "192 fl oz")});
    exchange(phones.ana, phones.marek);
    CHECK_FALSE((**phones.ana.book->record(lot)).differs());
    CHECK(phones.ana.book->digest() == phones.marek.book->digest());
  }
}

TEST_CASE("handover: only what the other lacks, by what its last file acknowledged") {
  TwoPhones phones;
  phones.ana.take(phones.marek.give_all());  // Marek's tips: all of Ana's lines so far.
  phones.ana.add("vessel", {text_field_value("name", "Blue bucket")});
  const auto delta = give(*phones.ana.book, {Packing::Gzip, {}, phones.marek.book->copy(), false});
  REQUIRE(delta);
  const auto full = give(*phones.ana.book, {Packing::Gzip, {}, {}, false});
  REQUIRE(full);
  CHECK(delta->changes < full->changes);
  phones.marek.take(delta->file);
  CHECK(phones.marek.book->digest() == phones.ana.book->digest());
}

TEST_CASE("handover: a delta whose forerunner was lost brings what stands alone, and says what waits") {
  TwoPhones phones;
  phones.ana.take(phones.marek.give_all());
  const Id bucket = phones.ana.add("vessel", {text_field_value("name", "Blue bucket")});
  phones.ana.take(phones.marek.give_all());
  // As if Marek had acknowledged the bucket: the delta starts behind it.
  auto peers = phones.ana.book->peers();
  REQUIRE(peers);
  REQUIRE(peers->size() == 1);
  Book::Peer peer = peers->front();
  peer.tips.clear();
  for (const Lane& lane : phones.ana.book->lanes()) peer.tips.push_back(ref_of(lane.id, lane.last_seq, lane.tip));
  REQUIRE(phones.ana.book->note_peer(peer));
  phones.ana.change(bucket, {text_field_value("name", "Green bucket")});
  const Id tote = phones.ana.add("vessel", {text_field_value("name", "Tote")});
  const auto delta = give(*phones.ana.book, {Packing::Gzip, {}, phones.marek.book->copy(), false});
  REQUIRE(delta);
  const auto taken = phones.marek.take(delta->file);
  CHECK(taken.waiting == 1);
  CHECK((**phones.marek.book->record(tote)).field("name")->text == "Tote");
  phones.marek.take(phones.ana.give_all());
  CHECK((**phones.marek.book->record(bucket)).field("name")->text == "Green bucket");
  CHECK(phones.marek.book->digest() == phones.ana.book->digest());
}

TEST_CASE("handover: bad files are refused in words, the book untouched") {
  TwoPhones phones;
  Copy& copy = phones.marek;
  CHECK(refusal(copy, "") == "take.empty"_w);
  CHECK(refusal(copy, " \n") == "take.empty"_w);
  CHECK(refusal(copy, "<!doctype html><p>Sign in</p>") == "take.web_page"_w);
  CHECK(refusal(copy, "{\"rows\":[]}\n") == "take.foreign"_w);
  CHECK(refusal(copy, "[1,2,3]") == "take.foreign"_w);
  CHECK(refusal(copy, std::string(1 << 20, '\0')) == "take.foreign"_w);
  CHECK(refusal(copy, "{\"format\":\"other\",\"major\":1}\n") == "take.foreign"_w);
  CHECK(refusal(copy, "{\"format\":\"steepbook\",\"major\":3,\"program\":\"3.0\"}\n") == "take.newer"_w);
  CHECK(refusal(copy, gzip(std::string(64 << 20, 'a'))) == "take.too_large"_w);
  CHECK(refusal(copy, "{\"format\":\"steepbook\",\"x\":\"" + std::string(70'000, 'a') + "\"}\n") == "take.too_large"_w);
}

TEST_CASE("handover: a file cut at any byte is 'cut', or refused; never taken (scenario 22)") {
  TwoPhones phones;
  phones.ana.add("vessel", {text_field_value("name", "Blue bucket")});
  const File plain = phones.ana.give_all(Packing::Plain), packed = phones.ana.give_all();
  for (std::size_t at = 1; at < plain.bytes.size(); at += at % 7 + 1) {
    const WordId word = refusal(phones.marek, plain.bytes.substr(0, at));
    CAPTURE(at);
    const bool told = word == "take.cut"_w || word == "take.foreign"_w;
    CHECK(told);
  }
  for (std::size_t at = 1; at < packed.bytes.size(); at += at % 5 + 1) {
    CAPTURE(at);
    const WordId word = refusal(phones.marek, packed.bytes.substr(0, at));
    const bool told = word == "take.cut"_w || word == "take.foreign"_w;
    CHECK(told);
  }
}

TEST_CASE("handover: a file with any byte changed or doubled is refused (I14)") {
  TwoPhones phones;
  phones.ana.add("vessel", {text_field_value("name", "Blue bucket")});
  const File plain = phones.ana.give_all(Packing::Plain);
  for (std::size_t at = 0; at < plain.bytes.size(); at += at % 5 + 1) {
    CAPTURE(at);
    std::string flipped = plain.bytes;
    flipped[at] = static_cast<char>(flipped[at] ^ 1);
    refusal(phones.marek, flipped);
    std::string doubled = plain.bytes;
    doubled.insert(at, 1, doubled[at]);
    refusal(phones.marek, doubled);
  }
}

TEST_CASE("handover: books of two businesses never mix unless joined by name; demo and real never") {
  Copy ours{"Office", 3}, theirs{"Laptop", 4}, demo{"Demo", 5};
  ours.start("Alder Reach");
  theirs.start("Quince Hollow");
  demo.start("Alder Reach", true);
  CHECK(refusal(ours, theirs.give_all().bytes) == "take.other_book"_w);
  CHECK(refusal(ours, demo.give_all().bytes) == "take.demo_real"_w);
  CHECK(refusal(demo, ours.give_all().bytes) == "take.demo_real"_w);
  const auto wrong = take_in(*ours.book, theirs.give_all(), "Quince");
  REQUIRE_FALSE(wrong);
  CHECK(wrong.error().word == "take.join_name"_w);
  REQUIRE(take_in(*ours.book, theirs.give_all(), "quince hollow", nullptr, ours.person));
  CHECK(ours.book->joined().size() == 2);
  CHECK(ours.book->id() != theirs.book->id());
  // Who answered stands on the line, as on every other.
  const auto history = ours.book->history(ours.book->id());
  REQUIRE(history);
  CHECK(history->back().change.why == "Quince Hollow");
  CHECK(history->back().change.person == ours.person);
  // From now on each side's files are taken without asking.
  theirs.take(ours.give_all());
  theirs.add("vessel", {text_field_value("name", "Tote")});
  CHECK(ours.take(theirs.give_all()).added == 1);
}

TEST_CASE("handover: a rescued book of a joined start is taken where its file is") {
  Copy ours{"Office", 3}, theirs{"Laptop", 4}, other{"Tablet", 5};
  ours.start("Alder Reach");
  theirs.start("Quince Hollow");
  other.start("Elsewhere");
  ours.take(theirs.give_all(), "quince hollow");
  sqlite3_int64 size = 0;
  unsigned char* bytes = sqlite3_serialize(ours.book->db().handle(), "main", &size, 0);
  const File rescued{"book.sqlite", {reinterpret_cast<const char*>(bytes), static_cast<std::size_t>(size)}, ""};
  sqlite3_free(bytes);
  CHECK(refusal(other, rescued.bytes) == "take.other_book"_w);
  CHECK(theirs.take(rescued).added == 3);  // The book, its person, and that the two are one.
  CHECK(theirs.book->digest() == ours.book->digest());
}

TEST_CASE("handover: some parts only, whole chains (I20, scenario 39)") {
  TwoPhones phones;
  const Id farm = phones.ana.book->new_record();
  Save save;
  save.record = farm;
  save.kind = "farm";
  save.part = Part{farm, 0};
  save.fields = {text_field_value("name", "Alder Reach")};
  REQUIRE(phones.ana.book->write(save, phones.ana.person));
  const auto given = give(*phones.ana.book, {Packing::Gzip, {Part{{}, 0}}, {}, false});
  REQUIRE(given);
  Copy client{"Client", 9};
  client.take(given->file);
  CHECK(client.book->kind_of(phones.kelp) == "material");
  CHECK(client.book->kind_of(farm).empty());
  client.take(phones.ana.give_all());
  CHECK(client.book->digest() == phones.ana.book->digest());
}

TEST_CASE("handover: plan touches no table and counts what would come") {
  TwoPhones phones;
  phones.ana.add("vessel", {text_field_value("name", "Blue bucket")});
  phones.ana.change(phones.kelp, {text_field_value("name", "Kelp")});
  const auto plan = plan_of(phones.marek, phones.ana.give_all());
  REQUIRE(plan);
  CHECK(plan->fresh == 2);
  CHECK(plan->records_new == 1);
  CHECK(plan->records_changed == 1);
  CHECK(plan->waiting == 0);
  CHECK(plan->by_copy.at("Ana's phone") == 2);
  CHECK(plan->by_kind.at("vessel") == 1);
  CHECK((**phones.marek.book->record(phones.kelp)).field("name")->text == "Liquid kelp");
}

TEST_CASE("handover: a file given while 'Not saved' acknowledges nothing") {
  TwoPhones phones;
  const auto given = give(*phones.marek.book, {Packing::Gzip, {}, {}, true});
  REQUIRE(given);
  phones.ana.take(given->file);
  const auto peers = phones.ana.book->peers();
  REQUIRE(peers);
  CHECK(peers->empty());
}

TEST_CASE("handover: three words for one's own changes") {
  TwoPhones phones;
  auto handed = phones.ana.book->handed_over();
  REQUIRE(handed);
  CHECK(handed->not_given > 0);
  CHECK(handed->confirmed == 0);
  const auto all = handed->not_given;
  const auto given = give(*phones.ana.book, {Packing::Gzip, {}, {}, false});
  REQUIRE(given);
  REQUIRE(phones.ana.book->note_given(given->tips, false));
  handed = phones.ana.book->handed_over();
  CHECK(handed->not_given == 0);
  CHECK(handed->given == all);
  phones.ana.take(phones.marek.give_all());
  handed = phones.ana.book->handed_over();
  CHECK(handed->given == 0);
  CHECK(handed->confirmed == all);
  CHECK(handed->confirmed_by == "Marek's phone");
}

TEST_CASE(
    "handover: given is what the file carried: not other parts, not what was written while it was on its way out") {
  TwoPhones phones;
  Book& book = *phones.ana.book;
  const Id farm = book.new_record();
  Save save;
  save.record = farm;
  save.kind = "farm";
  save.part = Part{farm, 0};
  save.fields = {text_field_value("name", "Alder Reach")};
  REQUIRE(book.write(save, phones.ana.person));
  const auto all = book.handed_over()->not_given;
  const auto house = give(book, {Packing::Gzip, {Part{}}, {}, false});
  REQUIRE(house);
  phones.ana.add("vessel", {text_field_value("name", "Tote")});  // While the share sheet stands open.
  REQUIRE(book.note_given(house->tips, false));
  CHECK(book.handed_over()->given == all - 1);
  CHECK(book.handed_over()->not_given == 2);  // The farm's line and the tote's.
  const auto rest = give(book, {Packing::Gzip, {}, {}, false});
  REQUIRE(rest);
  REQUIRE(book.note_given(rest->tips, false));
  CHECK(book.handed_over()->not_given == 0);
}

TEST_CASE("flat objects: only flat ones, nothing twice, no unknown escape") {
  CHECK(FlatObject::read(R"({"a":"x","n":12,"l":["p","q"]})"));
  CHECK(FlatObject::read(R"({"a":"x","n":12})")->integer("n") == 12);
  for (const char* bad : {R"({"a":{}})", R"({"a":[[]]})", R"({"a":1.5})", R"({"a":1e3})", R"({"a":"x","a":"y"})",
                          R"({"a":"\q"})", R"({"a":"\ud800"})", R"({"a":"x"} )", R"({"a":01})", R"({})", R"(["a"])",
                          R"({"a":99999999999999999})", "{\"a\":\"\xff\"}", "{\"a\":\"\x01\"}"})
    CHECK_FALSE(FlatObject::read(bad));
}
