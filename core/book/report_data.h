#pragma once
/// What the inspection report says, as plain structs. paper/ makes a page of it; nothing is computed there.

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "base/sha256.h"
#include "book/bed_states.h"
#include "book/book.h"
#include "book/places.h"
#include "book/questions.h"
#include "book/things.h"
#include "book/totals.h"
#include "book/work.h"
#include "trade/tea_time.h"

namespace steep {

/// One dose of a pass.
struct ReportDose {
  Dose dose;
  std::string bed;                 ///< Name; empty = 'bed not on this copy'.
  std::vector<std::string> crops;  ///< That grew on its stretch on the day.
  Bed place;
  int load_number = 0;
  ShownVolume volume;
  bool in_question = false, left_out = false, part = false;
  bool differs = false;
  bool late = false;            ///< Not written when it was done: is_late().
  Hold harvest, entry;          ///< The waits that this dose started.
  std::optional<TeaTime> time;  ///< Minutes since compost met water, when tea is in it.
  std::string who, copy;        ///< Who wrote it, on which copy.
  std::string struck_by;
  std::optional<Moment> struck_at;
};

/// What was in a pass's loads.
struct ReportProduct {
  Id material, lot;
  std::string material_name, lot_code, registration, maker;
  std::vector<Written> amounts;  ///< As typed, one a load line.
  int not_taken = 0;
};

/// What was poured out, and where.
struct ReportPoured {
  Discard discard;
  std::string place_kind, place;  ///< The place that it is linked to; empty = only words.
};

/// One tankful: what went in, what is known of the tank before, and what became of the rest.
struct ReportLoad {
  LoadSheet sheet;
  std::string brew_code, water;
  std::vector<ReportProduct> products;
  std::vector<ReportPoured> poured;
};

struct ReportPass {
  Pass pass;
  std::string code;
  std::string beds;                                   ///< Done whole: 'C3, C5–C12, N20'.
  std::vector<std::pair<std::string, Length>> parts;  ///< Bed and length of each bed done in part: '39 ft of T7'.
  std::string crops;                                  ///< Distinct, in walking order.
  Length length;
  Area bed_top, swath_area;  ///< swath_area 0 when no swath is known.
  std::vector<std::string> brew_codes;
  std::vector<Id> brews;
  std::vector<std::string> recipes;
  std::vector<ReportProduct> products;
  bool has_tea = false;
  VolumeSum used;
  std::vector<ReportLoad> loads;
  std::vector<ReportDose> doses;   ///< Not struck, in order of finish. Skipped ones too.
  std::vector<ReportDose> struck;  ///< Struck lines with reason; presses undone are only counted.
  int undone = 0;
  int in_question = 0;
  /// First and last over its beds; nullopt when no wait. `…_unknown`: at least one has no known end.
  std::optional<Moment> entry_first, entry_last, harvest_first, harvest_last;
  bool entry_unknown = false, harvest_unknown = false;
  std::vector<RuleWait> entry_rules, harvest_rules;  ///< Distinct, governing ones first.
  std::vector<std::string> people;                   ///< Full names.
  std::vector<Id> people_ids;
  std::string rig_name;
  std::optional<RigCalibration> calibration;
};

struct ReportBrew {
  BrewSheet sheet;
  std::vector<std::string> used_in;  ///< Codes of passes.
  std::vector<ReportPoured> poured;
};

struct ReportWash {
  Wash wash;
  std::string of, by;
};
/// A hold that a person set by hand, in force on some of these days.
struct ReportHold {
  HandHold hold;
  std::string bed, by;
  std::vector<Release> releases;
  std::vector<std::string> released_by;  ///< One for each release.
};
struct ReportHarvest {
  Harvest harvest;
  std::string bed, crop, by;
  std::vector<Sale> sales;
  std::vector<Id> inside_wait_of;  ///< Doses within whose wait it was picked, as the record stands now.
};
struct ReportStruck {
  Id record;
  std::string kind, what;  ///< What it was, in one line of stored names.
  std::string why, by;
  Moment at;
};

struct ReportData {
  Farm farm;
  Date from, to;
  Stamp made;
  std::string book_name, copy_label;
  bool demo = false;
  FarmTotals totals;
  std::vector<ReportPass> passes;  ///< Newest first.
  std::vector<ReportBrew> brews;   ///< That went on this farm in these days, or were made and poured out.
  std::vector<ReportWash> washes;
  std::vector<ReportHold> holds;  ///< By hand; newest first.
  std::vector<ReportHarvest> harvests;
  std::vector<ReportStruck> struck;  ///< Other struck records of these days.
  std::vector<Person> people;        ///< Who applied: full names, addresses, licences.
  /// Of a record's values as they stand: why they were written in spite of what was said, or corrected.
  std::map<Id, std::string> reasons;
  std::vector<OpenQuestion> questions;
  QuestionCounts counts;
  std::string digest;              ///< '7f3a 91c2 d04e'.
  std::vector<std::string> tips;   ///< Of each lane: label and code.
  std::int64_t batches_aside = 0;  ///< Taken files set aside: the digest line says so.
  int undone = 0;
  int on_unknown_beds = 0;
  int photos = 0;  ///< Of records of this farm and the house, in these days.
};
/// Written over an hour after it happened, or said to be from paper or memory: a paper says when it was written.
bool is_late(const RecordFacts& facts, Moment happened);
/// Trouble::BadInput "table.days" when `from` lies after `to`.
Result<ReportData> report_data(const Book& book, const Id& farm, Date from, Date to);

}  // namespace steep
