// Merge scenarios: files of other versions and other books, cut, damaged, hostile, of some parts, rescued.
#include "tests/unit/hand_file.h"
#include "tests/unit/scenario_farm.h"

using namespace steep;
using namespace steep::test;

namespace {

/// Refused, and not a byte of the book is another. The sentence's word.
std::string refused(Copy& copy, std::string bytes, std::string join = {}) {
  const Hash before = stored(copy);
  const auto taken = take_in(*copy.book, {"x.steepbook", std::move(bytes), ""}, std::move(join));
  CHECK(stored(copy) == before);
  return refusal(taken);
}

}  // namespace

TEST_CASE("scenario 20: an old version takes new kinds and fields, edits beside them, gives them back byte for byte") {
  Farm2 farm;
  HandFile newer(farm.book().id());
  newer.header.minor = 7;
  newer.more = {R"({"weather":"a line of a later version","n":3})"};
  HandLane lane(9);
  lane.save(farm.ana.rig, "rig",
            {quantity_value("tank.volume", "4 gal"), text_field_value("tank.liner", "rubber"),
             text_field_value("hue", "red")},
            got(farm.book().record(farm.ana.rig))->heads());
  const Id drone = farm.book().new_record();
  lane.save(drone, "drone",
            {text_field_value("name", "High"), FieldValue{"shape", static_cast<FieldType>('g'), "1 2 3", {}}});
  std::string odd = write_change(lane.next(drone, "drone", {text_field_value("name", "Higher")}, {lane.tip()}));
  odd.insert(odd.size() - 1, R"(,"x9":["a",1],"y":-3)");
  lane.add(odd);
  newer.lanes = {lane};
  CHECK(take_file(farm.ana.copy, {"newer.steepbook.txt", newer.text(), ""}).added == 3);
  CHECK(text_of(farm.book(), drone, "shape") == "1 2 3");
  edit(farm.book(), farm.ana.rig, {quantity_value("tank.volume", "5 gal")});
  CHECK(text_of(farm.book(), farm.ana.rig, "tank.liner") == "rubber");
  CHECK(text_of(farm.book(), farm.ana.rig, "hue") == "red");
  hand(farm.ana.copy, farm.office);
  CHECK(farm.both_agree());
  const std::string given = lines_of(farm.office);
  for (const std::string& body : lane.bodies) CHECK(given.find('\n' + body + '\n') != std::string::npos);
}

TEST_CASE(
    "scenario 21: a newer major version, another book, a demo: refused with the reason, no byte of the book changed") {
  Farm2 farm;
  HandFile newer(farm.book().id());
  newer.header.major = 3;
  newer.header.program = "3.0.2";
  CHECK(refused(farm.office, newer.text()) == "take.newer");
  CHECK(refused(farm.office, packed(newer.text())) == "take.newer");
  const auto newest = take_in(*farm.office.book, {"x", newer.text(), ""});
  CHECK(newest.error().values == std::vector<std::string>{"3.0.2"});  // Which to install.

  Copy quince("Laptop", 8), demo("Demo", 9);
  REQUIRE(quince.book->start("Quince Hollow", false));
  REQUIRE(demo.book->start("Alder Reach", true));
  CHECK(refused(farm.office, file_of(quince).bytes) == "take.other_book");
  const auto other = take_in(*farm.office.book, file_of(quince));
  CHECK(other.error().values ==
        std::vector<std::string>{"Quince Hollow", farm.book().name()});  // Both names; join is offered.
  CHECK(refused(farm.office, file_of(quince).bytes, "Quince Hill") == "take.join_name");
  CHECK(refused(farm.office, file_of(demo).bytes) == "take.demo_real");
  CHECK(refused(farm.office, file_of(demo).bytes, "Alder Reach") == "take.demo_real");  // Not even by its name.
  CHECK(refused(demo, file_of(farm.office).bytes) == "take.demo_real");
}

TEST_CASE("scenario 22: a file cut at every byte is cut off; with any byte flipped it is damaged; nothing is applied") {
  Copy ana("Ana's phone", 1), office("Office", 2);
  REQUIRE(ana.book->start("Alder Reach", false));
  hand(ana, office);
  add(*ana.book, "rig", {text_field_value("name", "Cart")});
  const Hash digest = office.book->digest(), bytes = stored(office);
  const auto word_of = [&](std::string file) { return refusal(take_in(*office.book, {"x", std::move(file), ""})); };
  for (const std::string& file : {lines_of(ana), file_of(ana).bytes}) {
    const std::size_t known_by = file.starts_with('{') ? 10 : 2;  // Bytes that say what it is.
    for (std::size_t at = 0; at < file.size(); ++at) {
      CAPTURE(at);
      const std::string cut = word_of(file.substr(0, at));
      CHECK(cut == (at == 0 ? "take.empty" : at < known_by ? "take.foreign" : "take.cut"));
      for (const char bit : {1, 0x20}) {
        std::string flipped = file;
        flipped[at] = static_cast<char>(flipped[at] ^ bit);
        // A few bits of a packing say nothing of what is packed (RFC 1952, 2.3: its time and system; padding).
        if (file[0] != '{' && unpacked(flipped) == unpacked(file)) continue;
        CHECK(word_of(std::move(flipped)) != "(not refused)");
      }
    }
  }
  CHECK(stored(office) == bytes);
  CHECK(office.book->digest() == digest);
}

TEST_CASE("scenario 28: a past line edited by hand is named; a tail cut off is shown and refilled by the next file") {
  Farm2 farm;
  edit(farm.book(), farm.dose, farm.volume("1.5 gal"));
  hand(farm.ana.copy, farm.office);
  const Id lane = got(farm.book().history(farm.dose)).back().ref.lane;
  const auto last = got(farm.book().history(farm.dose)).back().ref.seq;
  SUBCASE("inside") {
    farm.ana.copy.tamper("UPDATE change SET body=replace(body, '1.5 gal', '9.5 gal') WHERE body LIKE '%1.5 gal%'");
    farm.ana.copy.open();
    const auto health = got(farm.book().check());
    REQUIRE(health.broken_chains.size() == 1);
    CHECK(health.broken_chains[0] == lane.text() + " at " + std::to_string(last));
    // What it gives is refused elsewhere: the chain of the sender does not close.
    const auto given = give(farm.book(), {});
    if (given) CHECK(refused(farm.office, given->file.bytes) == "take.damaged");
  }
  SUBCASE("tail") {
    farm.ana.copy.tamper(("DELETE FROM change WHERE seq>=" + std::to_string(last) +
                          " AND lane=(SELECT id FROM lane WHERE uid=x'" + hex(lane.bytes) +
                          "'); UPDATE lane SET last_seq=" + std::to_string(last - 1) +
                          ", tip=(SELECT hash FROM change WHERE seq=" + std::to_string(last - 1) +
                          " AND lane=lane.id) WHERE uid=x'" + hex(lane.bytes) + "'")
                             .c_str());
    farm.ana.copy.open();
    REQUIRE(farm.book().rebuild());
    CHECK(text_of(farm.book(), farm.dose, "what.volume").empty());
    const TakenIn back = hand(farm.office, farm.ana.copy);
    CHECK(back.added == 1);
    CHECK(back.twin);  // The file showed our lane beyond what we hold.
    CHECK(text_of(farm.book(), farm.dose, "what.volume") == "1.5 gal");
    CHECK(farm.both_agree());
    CHECK(got(farm.book().check()).broken_chains.empty());
  }
}

TEST_CASE("scenario 39: two of five parts: whole chains, the same folds, 'bed not on this copy' counted") {
  Farm2 farm;
  const auto parts_of = [](const Book& book) {
    std::set<Part> parts;
    for (const Lane& lane : book.lanes())
      if (lane.last_seq > 0) parts.insert(lane.part);
    return parts;
  };
  // A year before, so that there are five: house base, house 2026, the farm's base, its 2025 and its 2026.
  add(farm.book(), "pass",
      {reference_value("farm", farm.ana.farm), number_value("number", "1"), word_value("aim", "leaf"),
       instant_value("start", at("2025-05-14T17:00:00-04:00")),
       instant_value("finish", at("2025-05-14T18:00:00-04:00"))});
  REQUIRE(parts_of(farm.book()).size() == 5);
  GiveRequest request;
  request.parts = {Part{}, Part{farm.ana.farm, 2026}};  // Neither the beds nor the brews.
  Copy client("Client", 5);
  hand(farm.ana.copy, client, request);
  CHECK(parts_of(*client.book).size() == 2);
  CHECK(got(client.book->check()).broken_chains.empty());
  CHECK(client.book->waiting()->empty());
  CHECK(got(client.book->record(farm.dose))->heads() == got(farm.book().record(farm.dose))->heads());
  CHECK(client.book->kind_of(farm.ana.beds[0]).empty());
  CHECK(got(client.book->record(farm.dose))->field("what.bed")->text == farm.ana.beds[0].text());

  // With the farm itself but not its beds' year … its base carries the beds: the dose finds its bed again.
  request.parts = {Part{farm.ana.farm, 0}};
  hand(farm.ana.copy, client, request);
  CHECK(client.book->kind_of(farm.ana.beds[0]) == "bed");
  hand(farm.ana.copy, client);
  CHECK(agree(farm.ana.copy, client));
}

TEST_CASE(
    "scenario 40: a rescued book, damaged in the middle, with a hostile schema: its sound lines are taken, the rest "
    "named") {
  Farm2 farm;
  for (int i = 0; i < 5; ++i) add(farm.book(), "rig", {text_field_value("name", "Rig " + std::to_string(i))});
  farm.ana.copy.tamper(
      "UPDATE change SET body='{}' WHERE body LIKE '%Rig 2%';"
      "CREATE TRIGGER hostile AFTER INSERT ON lane BEGIN DELETE FROM change; END;"
      "CREATE VIEW innocent AS SELECT writefile('x', 'y') FROM change;"
      "UPDATE lane SET label=char(8238) || 'gnp.exe'");
  sqlite3_int64 size = 0;
  unsigned char* image = sqlite3_serialize(farm.book().db().handle(), "main", &size, 0);
  REQUIRE(image != nullptr);
  const std::string bytes(reinterpret_cast<const char*>(image), static_cast<std::size_t>(size));
  sqlite3_free(image);

  const auto peers = got(farm.office.book->peers());
  TakeJob job(*farm.office.book, {"rescued.sqlite", bytes, ""});
  while (job.stage() == TakeJob::Stage::Reading) job.step(1000);
  REQUIRE(job.stage() == TakeJob::Stage::Planned);
  CHECK(job.plan().book_file);
  CHECK(job.plan().gaps.size() == 1);  // The line that was spoiled, by lane and number.
  job.apply({});
  while (job.stage() == TakeJob::Stage::Applying) job.step(1000);
  REQUIRE(job.stage() == TakeJob::Stage::Done);
  CHECK(job.outcome().added == 4);
  std::set<std::string> names;
  for (const Record& rig : got(farm.office.book->records("rig"))) names.insert(rig.field("name")->text);
  CHECK(names == std::set<std::string>{"Backpack 1", "Rig 0", "Rig 1", "Rig 3", "Rig 4"});
  CHECK(got(farm.office.book->peers()).size() == peers.size());  // Nobody gave it: it acknowledges nothing.
  CHECK(got(farm.office.book->peers()).front().tips == peers.front().tips);
  for (const Lane& lane : farm.office.book->lanes()) CHECK(lane.label.find("\u202e") == std::string::npos);

  CHECK(refused(farm.office, bytes.substr(0, bytes.size() / 3)) != "(not refused)");
  CHECK(refused(farm.office, bytes.substr(0, 100)) != "(not refused)");
}
