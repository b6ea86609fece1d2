// Merge scenarios: what people meet on the farm: one thing made twice, two starts, one bed twice, files set
// aside, findings after a take, waits while something is open.
#include "base/text.h"
#include "book/questions.h"
#include "book/record_commands.h"
#include "book/same_bed.h"
#include "book/spelled.h"
#include "book/totals.h"
#include "tests/unit/scenario_farm.h"

using namespace steep;
using namespace steep::test;

namespace {

/// The findings as a person reads them: names, days and amounts, not what stands for them in the book.
std::vector<std::string> sentences(const Book& book) {
  const SpellAs as{{}, got(Zone::from_name("America/New_York")), {2026, 5, 21}};
  std::vector<std::string> all;
  for (const OpenQuestion& question : got(open_questions(book)))
    if (question.kind == QuestionKind::Finding)
      all.push_back(spell(question.word, question.values, Words(Language::English), as));
  std::sort(all.begin(), all.end());
  return all;
}

}  // namespace

TEST_CASE(
    "scenario 25: two phones make the same bed offline: two records, offered as one, joined and parted, sprays keep "
    "their links") {
  Farm2 farm;
  const Id block = got(farm.book().records("block")).front().id;
  const auto bed_fields = [&] {
    return std::vector<FieldValue>{reference_value("block", block), text_field_value("name", "N9"),
                                   quantity_value("size.length", "70 ft"), quantity_value("size.width", "30 in")};
  };
  const Id here = add(farm.book(), "bed", bed_fields()), there = add(*farm.office.book, "bed", bed_fields());
  const Id sprayed =
      Farm2::paper_dose(farm.office, farm.load, there, "2026-05-14T17:20:00-04:00", "2026-05-14T17:25:00-04:00");
  exchange(farm.ana.copy, farm.office);
  for (const Copy* copy : {&farm.ana.copy, &farm.office}) {
    CHECK(copy->book->kind_of(here) == "bed");
    CHECK(copy->book->kind_of(there) == "bed");
    bool offered = false;
    for (const OpenQuestion& question : got(open_questions(*copy->book)))
      offered = offered ||
                (question.kind == QuestionKind::SameThing && (question.record == here || question.record == there));
    CHECK(offered);
  }
  const Going going{farm.ana.ana, "", false};
  done(join_same(farm.book(), here, there, "one bed", going));
  exchange(farm.ana.copy, farm.office);
  CHECK(text_of(*farm.office.book, here, "same_as") == there.text());
  CHECK(text_of(*farm.office.book, sprayed, "what.bed") == there.text());
  for (const OpenQuestion& question : got(open_questions(*farm.office.book)))
    CHECK(question.kind != QuestionKind::SameThing);
  done(part_same(*farm.office.book, here, "the other one lies behind the shed", going));
  exchange(farm.ana.copy, farm.office);
  CHECK(farm.both_agree());
  CHECK(got(farm.book().record(here))->field("same_as")->type == FieldType::NotTaken);
  CHECK(text_of(farm.book(), sprayed, "what.bed") == there.text());
}

TEST_CASE(
    "scenario 32: a taken file set aside at once, after a save, after a handover; taken back; its lines in another "
    "file") {
  Farm2 farm;
  const Hash before = farm.office.book->digest();
  edit(farm.book(), farm.dose, farm.volume("1.5 gal"));
  const Id cart = add(farm.book(), "rig", {text_field_value("name", "Cart")});
  hand(farm.ana.copy, farm.office);
  const Hash after = farm.office.book->digest();
  const auto rows = farm.office.book->change_count();
  const auto batch = got(farm.office.book->batches()).front().row;
  SUBCASE("at once") {
    REQUIRE(farm.office.book->set_aside(batch, true));
    CHECK(farm.office.book->digest() == before);
    CHECK(farm.office.book->kind_of(cart).empty());
  }
  SUBCASE("after a save") {
    const Id hose = add(*farm.office.book, "rig", {text_field_value("name", "Hose")});
    REQUIRE(farm.office.book->set_aside(batch, true));
    CHECK(farm.office.book->kind_of(cart).empty());
    CHECK(farm.office.book->kind_of(hose) == "rig");
  }
  SUBCASE("after it went on to others: their view is their own") {
    Copy third("Marek's phone", 3);
    hand(farm.office, third);
    REQUIRE(farm.office.book->set_aside(batch, true));
    CHECK(third.book->digest() == after);
    hand(farm.office, third);
    CHECK(third.book->digest() == after);
  }
  CHECK(farm.book().digest() == after);
  CHECK(farm.office.book->change_count() >= rows);  // Rows stay.
  CHECK(lines_of(farm.office).find("Cart") != std::string::npos);
  CHECK(hand(farm.ana.copy, farm.office).still_aside ==
        2);  // The same lines in another file stay aside, and the person is told.
  CHECK(farm.office.book->kind_of(cart).empty());
  REQUIRE(farm.office.book->set_aside(batch, false));
  CHECK(farm.office.book->kind_of(cart) == "rig");
  exchange(farm.ana.copy, farm.office);
  CHECK(farm.both_agree());
}

TEST_CASE(
    "scenario 33: laptop and phone each start the farm, then meet: both names, joined by typing, ids kept, both sides' "
    "later files taken") {
  FarmBook phone(1, 4);
  FarmBook laptop(1, 4, "Laptop", 22);
  edit(laptop.book(), laptop.book().id(), {text_field_value("name", "Alder Reach Farm")});
  const auto refused = take_in(laptop.book(), file_of(phone.copy));
  REQUIRE_FALSE(refused);
  CHECK(refused.error().word.key == "take.other_book");
  CHECK(refused.error().values == std::vector<std::string>{phone.book().name(), "Alder Reach Farm"});
  take_file(laptop.copy, file_of(phone.copy), phone.book().name());
  CHECK(laptop.book().joined() == std::vector<Id>{laptop.book().id(), phone.book().id()});
  hand(laptop.copy, phone.copy);  // Knows of the join from the file itself.
  CHECK(agree(laptop.copy, phone.copy));
  CHECK(phone.book().id() != laptop.book().id());
  CHECK(got(phone.book().records("farm")).size() == 2);
  CHECK(got(phone.book().records("bed")).size() == 8);
  add(phone.book(), "rig", {text_field_value("name", "Phone's")});
  CHECK(hand(phone.copy, laptop.copy).added == 1);
  add(laptop.book(), "rig", {text_field_value("name", "Laptop's")});
  CHECK(hand(laptop.copy, phone.copy).added == 1);
  // A third copy that began with the phone's start takes the laptop's file too.
  Copy third("Tablet", 23);
  hand(phone.copy, third);
  CHECK(hand(laptop.copy, third).added == 0);
  CHECK(agree(third, laptop.copy));
}

TEST_CASE(
    "scenario 34: one bed by two phones in overlapping time: two records, one question, totals the earlier, waits the "
    "later") {
  Farm2 farm;
  const Id pass = farm.paper_pass(farm.office, "8");
  Id load;
  for (const Record& record : got(farm.office.book->records("load")))
    if (record.field("pass")->text == pass.text()) load = record.id;
  const Id second =
      Farm2::paper_dose(farm.office, load, farm.ana.beds[0], "2026-05-14T17:06:00-04:00", "2026-05-14T17:12:00-04:00");
  exchange(farm.ana.copy, farm.office);
  const Going going{farm.ana.ana, "", false};
  for (const Copy* copy : {&farm.ana.copy, &farm.office}) {
    const auto pairs = got(same_bed_pairs(*copy->book));
    REQUIRE(pairs.size() == 1);
    CHECK(pairs[0].first == farm.dose);
    CHECK(pairs[0].second == second);
    CHECK(got(farm_totals(*copy->book, farm.ana.farm, {2026, 5, 14}, {2026, 5, 14})).tea_area.square_feet() ==
          doctest::Approx(250));
    CHECK(farm.wait_end(*copy) == std::optional(at("2026-05-15T17:12:00-04:00").at));
  }
  TwiceRequest answer;
  answer.first = farm.dose;
  answer.second = second;
  answer.kept = farm.dose;
  answer.why = "Marek logged mine";
  double area = 250;
  SUBCASE("same work") { answer.answer = TwiceAnswer::SameWork; }
  SUBCASE("each did a part") {
    answer.answer = TwiceAnswer::EachAPart;
    answer.met = quantity_value("met", "60 ft");
  }
  SUBCASE("both full passes") { area = 500; }
  done(answer_same_bed_twice(farm.book(), answer, going));
  hand(farm.ana.copy, farm.office);
  CHECK(farm.both_agree());
  CHECK(got(same_bed_pairs(*farm.office.book)).empty());
  CHECK(got(farm_totals(*farm.office.book, farm.ana.farm, {2026, 5, 14}, {2026, 5, 14})).tea_area.square_feet() ==
        doctest::Approx(area));
}

TEST_CASE(
    "scenario 36: 'done' while a file is applied is refused with a sentence; Cancel: as before; nothing half-merged is "
    "seen") {
  Farm2 farm;
  for (int i = 0; i < 300; ++i) add(farm.book(), "rig", {text_field_value("name", "Rig " + std::to_string(i))});
  const Hash digest = farm.office.book->digest(), bytes = stored(farm.office);
  const auto counter = farm.office.book->counter();
  const auto rigs = got(farm.office.book->records("rig")).size();
  TakeJob job(*farm.office.book, file_of(farm.ana.copy));
  while (job.stage() == TakeJob::Stage::Reading) job.step(1);
  CHECK(stored(farm.office) == bytes);  // Verify and plan touch no table.
  REQUIRE(job.stage() == TakeJob::Stage::Planned);
  CHECK(job.plan().fresh == 300);
  job.apply({});
  job.step(1);
  REQUIRE(job.stage() == TakeJob::Stage::Applying);
  CHECK(refusal(farm.office.book->write(save_of(*farm.office.book, "rig", {text_field_value("name", "x")}), {})) ==
        "book.busy");
  CHECK(refusal(farm.office.book->keep_draft({"rig", {}, {}, {}, {}})) == "book.busy");
  CHECK(farm.office.book->counter() == counter);  // No view is made anew meanwhile.
  SUBCASE("Cancel") {
    job.cancel();
    CHECK(job.problem().word.key == "take.cancelled");
    CHECK(got(farm.office.book->records("rig")).size() == rigs);
    CHECK(farm.office.book->digest() == digest);
    CHECK(got(farm.office.book->batches()).size() == 1);
    CHECK(farm.office.book->counter() == counter);
    hand(farm.ana.copy, farm.office);
  }
  SUBCASE("to its end") {
    while (job.stage() == TakeJob::Stage::Applying) job.step(1);
    CHECK(job.stage() == TakeJob::Stage::Done);
    CHECK(farm.office.book->counter() != counter);
  }
  CHECK(farm.both_agree());
}

TEST_CASE(
    "scenario 37: a picking of 20 May on record, a file brings a spray before it; a lot overdrawn; a load short: "
    "findings") {
  Farm2 farm(14);
  exchange(farm.ana.copy, farm.office);
  add(*farm.office.book, "harvest",
      {reference_value("bed", farm.ana.beds[1]), quantity_value("amount", "18 lb"),
       instant_value("at", at("2026-05-20T07:20:00-04:00"))});
  const Id kelp = farm.ana.material("Liquid kelp", "foliar-feed", false);
  const Id lot = farm.ana.lot(kelp, "K-19", "8 fl oz");
  hand(farm.ana.copy, farm.office);
  CHECK(got(farm.office.book->reviews()).empty());

  Farm2::paper_dose(farm.ana.copy, farm.load, farm.ana.beds[1], "2026-05-14T17:10:00-04:00",
                    "2026-05-14T17:15:00-04:00");
  for (Copy* copy : {&farm.ana.copy, &farm.office})
    add(*copy->book, "load-line",
        {reference_value("load", farm.load), reference_value("amount.lot", lot),
         quantity_value("amount.amount", "6 fl oz")});
  edit(farm.book(), farm.load,
       {quantity_value("left", "3 gal"), instant_value("closed", at("2026-05-14T18:00:00-04:00"))});
  CHECK(reviews(farm.book(), "finding.picked-inside-wait") == 0);  // Ana's phone knows of no picking.
  CHECK(reviews(farm.book(), "finding.lot-overdrawn") == 0);
  const TakenIn taken = hand(farm.ana.copy, farm.office);
  CHECK(taken.findings >= 2);
  hand(farm.office, farm.ana.copy);
  for (const Copy* copy : {&farm.ana.copy, &farm.office}) {
    CHECK(reviews(*copy->book, "finding.picked-inside-wait") == 1);
    CHECK(reviews(*copy->book, "finding.lot-overdrawn") == 1);
    CHECK(reviews(*copy->book, "finding.load-gave-more") == 1);
    CHECK(join(sentences(*copy->book), "\n") ==
          "Lot Liquid kelp K-19 is overdrawn by 4 fl oz.\n"
          "N2 picked Wed 20 May: a spray of Thu 14 May holds it until Thu 28 May, 12:00 am.\n"
          "Pass 7, load 1: it gave more than it held.");
  }
  CHECK(farm.both_agree());
}

TEST_CASE(
    "scenario 38: a conflict, a question, a waiting change: the most cautious end on every copy until it is settled") {
  Farm2 farm;
  const auto when = [&](std::string_view finish) {
    return std::vector<FieldValue>{instant_value("when.start", at("2026-05-14T17:04:00-04:00")),
                                   instant_value("when.finish", at(finish))};
  };
  edit(farm.book(), farm.dose, when("2026-05-14T17:30:00-04:00"));
  farm.office.clock += kHour;  // The office's version is the stand-in by its later clock, and ends earlier.
  edit(*farm.office.book, farm.dose, when("2026-05-14T17:08:00-04:00"));
  exchange(farm.ana.copy, farm.office);
  for (const Copy* copy : {&farm.ana.copy, &farm.office}) {
    CHECK(text_of(*copy->book, farm.dose, "when.finish") == stamp_text(at("2026-05-14T17:08:00-04:00")));
    CHECK(farm.wait_end(*copy) == std::optional(at("2026-05-15T17:30:00-04:00").at));
    CHECK(farm.states(*copy).beds[0].to_settle >= 1);
  }
  edit(farm.book(), farm.dose, when("2026-05-14T17:08:00-04:00"));
  exchange(farm.ana.copy, farm.office);
  CHECK(farm.wait_end(farm.office) == std::optional(at("2026-05-15T17:08:00-04:00").at));

  // A change that waits for one which is not here can be read: it counts.
  GiveRequest to_office;
  to_office.lacking_at = farm.office.book->copy();
  hand(farm.office, farm.ana.copy);
  edit(farm.book(), farm.dose, {text_field_value("note", "never arrives")});
  Book::Peer office = got(farm.book().peers()).front();
  office.tips = tips_of(farm.book());
  REQUIRE(farm.book().note_peer(office));
  edit(farm.book(), farm.dose, when("2026-05-14T17:50:00-04:00"));
  CHECK(hand(farm.ana.copy, farm.office, to_office).waiting == 1);
  CHECK(text_of(*farm.office.book, farm.dose, "when.finish") == stamp_text(at("2026-05-14T17:08:00-04:00")));
  CHECK(farm.wait_end(farm.office) == std::optional(at("2026-05-15T17:50:00-04:00").at));
  hand(farm.ana.copy, farm.office);
  CHECK(farm.wait_end(farm.office) == std::optional(at("2026-05-15T17:50:00-04:00").at));
  CHECK(farm.both_agree());
}
