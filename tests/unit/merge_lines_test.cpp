// Copies that meet only through lines: gaps, acts, forged and newer lines, clones, files set aside, chains, starts that join.
#include "book/fold.h"
#include "two_copies.h"

using namespace steep;
using namespace steep::test;

TEST_CASE("what builds on a gap waits, nothing else does, and it counts when the gap closes") {
  Two farm;
  const Id cart = add(*farm.ana.book, "rig", {text_field_value("name", "Cart")});  // line 3, lost on the way
  edit(*farm.ana.book, cart, {text_field_value("name", "Cart 2")});                // line 4
  const Id boom = add(*farm.ana.book, "rig", {text_field_value("name", "Boom")});  // line 5
  const Lane lane = farm.ana.book->lanes()[0];
  auto outcome = take(*farm.office.book, {section_of(*farm.ana.book, lane, 4)}, farm.ana.book.get());
  REQUIRE(outcome);
  CHECK(outcome->added == 2);
  CHECK(outcome->waiting == 1);
  CHECK(outcome->broken_chains.empty());
  CHECK(text_of(*farm.office.book, boom, "name") == "Boom");
  CHECK(farm.office.book->kind_of(cart).empty());
  CHECK(farm.office.book->check()->waiting == 1);
  const auto waiting = farm.office.book->waiting();
  REQUIRE(waiting);
  REQUIRE(waiting->size() == 1);
  CHECK((*waiting)[0].change.fields[0].text == "Cart 2");
  CHECK((*waiting)[0].copy == "Ana's phone");
  outcome = take(*farm.office.book, {section_of(*farm.ana.book, lane, 3)}, farm.ana.book.get());
  CHECK(outcome->added == 1);
  CHECK(outcome->records_new == 1);
  CHECK(text_of(*farm.office.book, cart, "name") == "Cart 2");
  CHECK(farm.office.book->waiting()->empty());
  farm.same();
}

TEST_CASE("an act counts whole or not at all, also across a gap") {
  Two farm;
  ForeignLane far(9);
  const Id one = farm.ana.book->new_record(), two = farm.ana.book->new_record(), three = farm.ana.book->new_record();
  far.add(one, "rig", {text_field_value("name", "one")}, {}, 1, false);
  far.add(two, "rig", {text_field_value("name", "two")}, {}, 1, false);
  far.add(three, "rig", {text_field_value("name", "three")}, {far.tip()}, 1, true);
  REQUIRE(take(*farm.ana.book, {far.section(1, 1)}));
  CHECK(farm.ana.book->kind_of(one).empty());
  REQUIRE(take(*farm.ana.book, {far.section(3, 3)}));
  CHECK(farm.ana.book->kind_of(three).empty());
  const auto outcome = take(*farm.ana.book, {far.section(2, 2)});
  REQUIRE(outcome);
  CHECK(outcome->records_new == 3);
  CHECK(farm.ana.book->kind_of(one) == "rig");
  CHECK(farm.ana.book->kind_of(three) == "rig");
}

TEST_CASE(
    "lines far up a long lane that comes later in the file are found by whoever saw them, and a forged one is not") {
  Two farm;
  const Book& book = *farm.ana.book;
  ForeignLane seeing(3), seen(4), last(5);
  const auto rig = [&](ForeignLane& lane, std::vector<ChangeRef> refs, std::int64_t act = 0, bool ends = true) {
    const Id record = book.new_record();
    lane.add(record, "rig", {text_field_value("name", "Cart")}, std::move(refs), act, ends);
    return record;
  };
  constexpr std::int64_t kStretch = 16'384;  // As FreshLines looks after them.
  for (std::int64_t seq = 1; seq < kStretch - 1; ++seq) rig(seen, {});
  rig(last, {});
  for (std::int64_t seq = kStretch - 1; seq <= kStretch + 1;
       ++seq)  // One act across the border; it waits for the last lane.
    rig(seen, {last.tip()}, kStretch - 1, seq == kStretch + 1);
  rig(seen, {});
  const auto line = [&](std::int64_t seq) {
    return ref_of(seen.id, seq, seen.lines[static_cast<std::size_t>(seq - 1)].hash);
  };
  for (std::int64_t seq = kStretch - 2; seq <= kStretch + 2; ++seq) rig(seeing, {line(seq), line(1)});
  ChangeRef forged = line(kStretch);
  forged.tag ^= 1;
  const Id never = rig(seeing, {forged}), after = rig(seeing, {seeing.tip()});
  const auto outcome = take(*farm.ana.book, {seeing.section(), seen.section(), last.section()});
  REQUIRE(outcome);
  CHECK(outcome->added == kStretch + 2 + 7 + 1);
  CHECK(outcome->records_new == kStretch + 2 + 5 + 1);
  CHECK(outcome->waiting == 2);
  CHECK(book.kind_of(never).empty());
  CHECK(book.kind_of(after).empty());
}

TEST_CASE(
    "forged references: a ring never counts, an own later line is refused, another record's change replaces nothing") {
  Two farm;
  ForeignLane a(3), b(4);
  const Id one = farm.ana.book->new_record();
  // Each says that it saw the other; a tag has to be guessed, so one of the two is wrong for ever.
  a.add(one, "rig", {text_field_value("name", "a")}, {ChangeRef{b.id, 1, 0x12345678}});
  b.add(one, "rig", {text_field_value("name", "b")}, {a.tip()});
  REQUIRE(take(*farm.ana.book, {a.section(), b.section()}));
  CHECK(farm.ana.book->kind_of(one).empty());
  CHECK(farm.ana.book->waiting()->size() == 2);

  ForeignLane c(5);
  Change own = c.change(one, "rig", {text_field_value("name", "c")});
  own.seen = {ChangeRef{c.id, 1, 1}};
  CHECK_FALSE(read_change(write_change(own)));

  ForeignLane d(6);
  d.add(farm.ana.book->new_record(), "rig", {text_field_value("name", "d")}, heads(*farm.ana.book, farm.rig));
  REQUIRE(take(*farm.ana.book, {d.section()}));
  CHECK(text_of(*farm.ana.book, farm.rig, "name") == "Backpack");
  CHECK_FALSE(differs(*farm.ana.book, farm.rig));
}

TEST_CASE("a newer program's kinds, fields and types stay as they came, and an edit leaves them alone") {
  Two farm;
  ForeignLane far(9);
  far.add(farm.rig, "rig",
          {quantity_value("tank.volume", "4 gal"), text_field_value("tank.liner", "rubber"),
           text_field_value("hue", "red")},
          heads(*farm.ana.book, farm.rig));
  const Id drone = farm.ana.book->new_record();
  far.add(drone, "drone",
          {text_field_value("name", "high"), FieldValue{"shape", static_cast<FieldType>('g'), "1 2 3", {}}});
  std::string odd = write_change(far.change(drone, "drone", {text_field_value("name", "higher")}, {far.tip()}));
  odd.insert(odd.size() - 1, R"(,"x9":["a",1],"y":-3)");
  far.add(odd);
  REQUIRE(take(*farm.ana.book, {far.section()}));
  CHECK(farm.ana.book->kind_of(drone) == "drone");
  CHECK(text_of(*farm.ana.book, drone, "shape") == "1 2 3");
  CHECK(text_of(*farm.ana.book, drone, "name") == "higher");

  edit(*farm.ana.book, farm.rig, {quantity_value("tank.volume", "5 gal")});
  CHECK(text_of(*farm.ana.book, farm.rig, "tank.liner") == "rubber");  // Carried along in its group.
  CHECK(text_of(*farm.ana.book, farm.rig, "hue") == "red");
  farm.same();
  CHECK(text_of(*farm.office.book, farm.rig, "tank.liner") == "rubber");
  for (const Section& section : everything(*farm.office.book))
    if (section.lane.id == far.id) {
      REQUIRE(section.lines.size() == 3);
      for (std::size_t i = 0; i < 3; ++i) CHECK(section.lines[i].body == far.lines[i].body);
    }
}

TEST_CASE("a line that must be understood: its record says so instead of half a truth") {
  Two farm;
  ForeignLane far(9);
  Change change = far.change(farm.rig, "rig", {text_field_value("hue", "red")}, heads(*farm.ana.book, farm.rig));
  change.must = true;
  far.add(write_change(change));
  REQUIRE(take(*farm.ana.book, {far.section()}));
  CHECK((*farm.ana.book->record(farm.rig))->needs_newer);
  CHECK(reviews(*farm.ana.book, "review.newer") == 1);
  change = farm.ana.book ? far.change(farm.rig, "rig", {text_field_value("name", "x")}, {far.tip()}) : change;
  change.must = true;  // Known to us after all.
  far.add(write_change(change));
  REQUIRE(take(*farm.ana.book, {far.section()}));
  CHECK((*farm.ana.book->record(farm.rig))->needs_newer);  // The first one still is not.
}

TEST_CASE("a storage cloned with its anchor: both branches stay, both copies take new lanes when they meet") {
  Two farm;
  auto twin = farm.ana.clone("Ana's tablet", 77, true);
  CHECK(twin->book->copy() == farm.ana.book->copy());
  const Id lane = twin->book->copy();
  edit(*farm.ana.book, farm.rig, {text_field_value("name", "phone")});
  edit(*twin->book, farm.rig, {text_field_value("name", "tablet")});
  const auto outcome = take_all(*twin, farm.ana);
  CHECK(outcome.twin);
  CHECK_FALSE(twin->book->copy().is_nil());
  CHECK(twin->book->copy() != lane);
  CHECK(differs(*twin->book, farm.rig));
  CHECK(outcome.broken_chains.empty());
  CHECK(take_all(farm.ana, *twin).twin);
  edit(*twin->book, farm.rig, {text_field_value("name", "settled")});
  meet(farm.ana, *twin);
  CHECK(farm.ana.book->digest() == twin->book->digest());
  CHECK(text_of(*farm.ana.book, farm.rig, "name") == "settled");
  CHECK_FALSE(differs(*farm.ana.book, farm.rig));
  CHECK(farm.ana.book->check()->broken_chains.empty());
  farm.same();
}

TEST_CASE("yesterday's backup, written on, meets a copy that holds the lost day") {
  Two farm;
  auto backup = farm.ana.clone("Ana's phone", 78, false);
  edit(*farm.ana.book, farm.rig, {quantity_value("swath", "30 in")});  // The day that is lost …
  take_all(farm.office, farm.ana);
  edit(*backup->book, farm.rig, {quantity_value("swath", "32 in")});  // … and what was done on the restored phone.
  meet(*backup, farm.office);
  CHECK(backup->book->digest() == farm.office.book->digest());
  CHECK(differs(*backup->book, farm.rig));
  CHECK(backup->book->history(farm.rig)->size() == 3);
}

TEST_CASE("a file set aside: rows stay, the view is as before; taken back, all is there; said again in other files") {
  Two farm;
  const Hash before = farm.office.book->digest();
  edit(*farm.ana.book, farm.rig, {text_field_value("name", "Boom")});
  const Id cart = add(*farm.ana.book, "rig", {text_field_value("name", "Cart")});
  take_all(farm.office, farm.ana);
  const Hash after = farm.office.book->digest();
  const auto batches = farm.office.book->batches();
  REQUIRE(batches->size() == 2);
  CHECK((*batches)[0].changes == 2);
  CHECK((*batches)[0].from == "Ana's phone");
  const auto batch = (*batches)[0].row;
  REQUIRE(farm.office.book->set_aside(batch, true));
  CHECK(farm.office.book->digest() == before);
  CHECK(text_of(*farm.office.book, farm.rig, "name") == "Backpack");
  CHECK(farm.office.book->kind_of(cart).empty());
  CHECK(farm.office.book->change_count() == 4);
  CHECK((*farm.office.book->history(farm.rig))[1].aside);
  CHECK(farm.office.book->check()->tables_match);
  CHECK(take_all(farm.office, farm.ana).still_aside == 2);
  // Writing on beside it goes on as if the file had not come; its lines still go to others.
  edit(*farm.office.book, farm.rig, {text_field_value("name", "Hose")});
  take_all(farm.ana, farm.office);
  CHECK(differs(*farm.ana.book, farm.rig));
  farm.office.open();
  CHECK(text_of(*farm.office.book, farm.rig, "name") == "Hose");
  REQUIRE(farm.office.book->set_aside(batch, false));
  CHECK(farm.office.book->digest() == farm.ana.book->digest());
  CHECK(farm.office.book->digest() != after);
  CHECK_FALSE(farm.office.book->set_aside(99, true));
}

TEST_CASE("a take cancelled, or whose lines do not fit, leaves everything as it was") {
  Two farm;
  const Hash before = farm.office.book->digest();
  edit(*farm.ana.book, farm.rig, {text_field_value("name", "Boom")});
  const auto sections = everything(*farm.ana.book);
  const auto counter = farm.office.book->counter();
  {
    auto in = farm.office.book->begin_take({farm.ana.book->id(), "Hill Farm", false, {}, "Ana", "x", {}, {}, false});
    REQUIRE(in);
    REQUIRE((*in)->lane(sections[0].lane.id, sections[0].lane.part, "Ana", {}));
    const auto& line = sections[0].lines.back();
    REQUIRE((*in)->line(line.seq, line.prev, line.hash, *read_change(line.body), line.body));
    // Commands are refused meanwhile, and a second take.
    CHECK(
        farm.office.book->write(save_of(*farm.office.book, "rig", {text_field_value("name", "x")}), {}).error().kind ==
        Trouble::Conflict);
    CHECK_FALSE(farm.office.book->begin_take({}));
    CHECK_FALSE((*in)->finish());
  }
  CHECK(farm.office.book->digest() == before);
  CHECK(farm.office.book->change_count() == 2);
  CHECK(farm.office.book->counter() == counter);
  auto wrong = sections;
  wrong[0].lane.part.year = 2026;
  CHECK_FALSE(take(*farm.office.book, wrong));
  wrong = sections;
  wrong[0].lines.back().seq += 1;
  CHECK_FALSE(take(*farm.office.book, wrong));
  CHECK(farm.office.book->digest() == before);
  add(*farm.office.book, "rig", {text_field_value("name", "Cart")});
  farm.same();
}

TEST_CASE("no file is taken while a pass is open here") {
  Two farm;
  const Id land = add(*farm.ana.book, "farm", {text_field_value("name", "Alder Reach")});
  const Id pass =
      add(*farm.ana.book, "pass",
          {reference_value("farm", land), word_value("aim", "leaf"), instant_value("start", farm.ana.book->now())});
  const auto refused = take(*farm.ana.book, everything(*farm.office.book));
  REQUIRE_FALSE(refused);
  CHECK(refused.error().word.key == "book.pass_open");
  CHECK(refused.error().values.size() == 2);  // Which pass, and since when.
  take_all(farm.office, farm.ana);
  CHECK(take(*farm.office.book, everything(*farm.ana.book)));  // Somebody else's open pass hinders nobody.
  edit(*farm.ana.book, pass, {instant_value("finish", farm.ana.book->now())});
  farm.same();
}

TEST_CASE("a chain that does not close is named") {
  Two farm;
  ForeignLane far(9), forked(9);
  const Id one = farm.ana.book->new_record();
  far.add(one, "rig", {text_field_value("name", "one")});
  forked.add(one, "rig", {text_field_value("name", "other one")});
  forked.add(farm.ana.book->new_record(), "rig", {text_field_value("name", "two")});
  REQUIRE(take(*farm.ana.book, {far.section()}));
  auto outcome = take(*farm.ana.book, {forked.section(2)});
  REQUIRE(outcome);
  REQUIRE(outcome->broken_chains.size() == 1);
  CHECK(outcome->broken_chains[0] == far.id.text() + " 2");
  CHECK(reviews(*farm.ana.book, "review.chain") == 1);
  CHECK(farm.ana.book->check()->broken_chains.size() == 1);
  outcome = take(*farm.ana.book, {forked.section(1)});  // A fork after all.
  CHECK(outcome->broken_chains.empty());
  CHECK(reviews(*farm.ana.book, "review.chain") == 0);
}

TEST_CASE("an empty copy becomes a copy of the book it takes; joined starts answer to both ids") {
  Copy ana("Ana's phone", 1), marek("Marek's laptop", 2), fresh("New phone", 3);
  REQUIRE(ana.book->start("Alder Reach", false));
  REQUIRE(marek.book->start("Alder Reach Farm", false));
  Save join = edit_of(*ana.book, ana.book->id(), {list_value("joined", {marek.book->id().text()})});
  write(*ana.book, join);
  CHECK(ana.book->joined() == std::vector<Id>{ana.book->id(), marek.book->id()});
  meet(ana, marek);
  CHECK(ana.book->digest() == marek.book->digest());
  CHECK(ana.book->name() == "Alder Reach");
  CHECK(marek.book->name() == "Alder Reach Farm");
  CHECK(marek.book->joined() == std::vector<Id>{marek.book->id(), ana.book->id()});
  take_all(fresh, marek);
  CHECK(fresh.book->id() == marek.book->id());
  CHECK(fresh.book->digest() == ana.book->digest());
  CHECK(fresh.book->joined().size() == 2);
}

TEST_CASE("the checks of the trade run after a write and after a take; what they examined is replaced") {
  Copy ana("Ana's phone", 1), office("Office", 2);
  // Stands for a check: rigs called 'bad' are found, and every rig of the book is looked at.
  struct BadRigs : Checking {
    explicit BadRigs(const Book& book) {
      const auto rigs = book.records("rig");
      for (const Record& rig : *rigs) {
        examined.push_back(rig.id);
        if (rig.field("name")->text == "bad") findings.push_back({rig.id, "name", "review.newer"_w, {"x", "y"}, {5}});
      }
    }
    bool step() override { return false; }
    double share() const override { return 1; }
  };
  office.checks = [](const Book& book, Touched) { return std::make_unique<BadRigs>(book); };
  office.open();
  REQUIRE(ana.book->start("Alder Reach", false));
  const Id rig = add(*ana.book, "rig", {text_field_value("name", "bad")});
  CHECK(take_all(office, ana).findings == 1);
  const auto found = office.book->reviews();
  REQUIRE(found->size() == 1);
  CHECK((*found)[0].record == rig);
  CHECK((*found)[0].group == "name");
  CHECK((*found)[0].values == std::vector<std::string>{"x", "y"});
  CHECK((*found)[0].since.ms == 5);
  REQUIRE(office.book->rebuild());
  CHECK(office.book->reviews()->size() == 1);
  edit(*office.book, rig, {text_field_value("name", "good")});
  CHECK(office.book->reviews()->empty());
}
