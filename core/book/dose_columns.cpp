#include "book/dose_columns.h"

#include <map>

#include "base/text.h"
#include "book/dose_volumes.h"
#include "book/places.h"
#include "book/report_work.h"
#include "book/work.h"
#include "trade/how_known_word.h"

namespace steep {
namespace {

/// Reads what stands around doses, each thing once.
class DoseReader {
 public:
  explicit DoseReader(const Book& book) : book_(book) {}
  Result<void> begin(const Table& table) {
    std::vector<Id> doses;
    for (const TableRow& row : table.rows) doses.push_back(row.record);
    TRY_ASSIGN(volumes_, dose_volumes(book_, doses));
    TRY_ASSIGN(same_, SameGround::read(book_));
    TRY_ASSIGN(const std::vector<Farm>& all, farms(book_));
    for (const Farm& farm : all) farms_[farm.id] = farm;
    return {};
  }

  /// The cells in the order of the columns.
  Result<std::vector<std::string>> cells(const Id& id) {
    TRY_ASSIGN(const Dose& dose, read_dose(book_, id));
    const auto farm = farms_.find(dose.part.farm);
    const ShownVolume* volume = find(volumes_, id);
    const auto si = [](const std::optional<Volume>& amount) { return amount ? decimal(amount->si(), 12) : ""; };
    TRY_ASSIGN(const std::string& crops, crops_of(dose, farm == farms_.end() ? nullptr : &farm->second));
    return std::vector<std::string>{pass_date(dose),
                                    farm == farms_.end() ? "" : farm->second.name,
                                    crops,
                                    volume ? si(volume->spray) : "",
                                    volume ? si(volume->tea) : "",
                                    volume ? std::string(how_known_word(volume->how)) : ""};
  }

 private:
  template <class Map>
  static const typename Map::mapped_type* find(const Map& map, const Id& id) {
    const auto found = map.find(id);
    return found == map.end() ? nullptr : &found->second;
  }

  std::string pass_date(const Dose& dose) {
    if (const std::string* known = find(dates_, dose.load)) return *known;
    std::string date;
    if (const auto load = read_load(book_, dose.load))
      if (const auto pass = read_pass(book_, load->pass))
        if (const Farm* farm = find(farms_, dose.part.farm)) date = date_text(farm->day(pass->start.at));
    return dates_.emplace(dose.load, std::move(date)).first->second;
  }

  Result<std::string> crops_of(const Dose& dose, const Farm* farm) {
    if (!farm) return std::string();
    auto of = plantings_.find(dose.bed);
    if (of == plantings_.end()) {
      TRY_ASSIGN(std::vector<Planting> all, plantings_of(book_, same_, dose.bed));
      of = plantings_.emplace(dose.bed, std::move(all)).first;
    }
    std::optional<Stretch> stretch;
    if (dose.from && dose.to) stretch = dose.stretch();
    std::vector<std::string> crops;
    for (const Planting* planting :
         grew_on(of->second, stretch, farm->day(dose.finish ? dose.finish->at : dose.made.at)))
      add_once(crops, planting->crop);
    return join(crops, ", ");
  }

  const Book& book_;
  SameGround same_;
  std::map<Id, Farm> farms_;
  std::map<Id, ShownVolume> volumes_;
  std::map<Id, std::string> dates_;  ///< Of the pass, by load.
  std::map<Id, std::vector<Planting>> plantings_;
};

}  // namespace

Result<void> add_dose_columns(const Book& book, Table& table) {
  table.columns.push_back({"pass_date", CellKind::Date, {}, {}});
  table.columns.push_back({"farm", CellKind::Text, {}, {}});
  table.columns.push_back({"crops", CellKind::Text, {}, {}});
  table.columns.push_back({"shown_spray_si", CellKind::Number, "m3", {}});
  table.columns.push_back({"shown_tea_si", CellKind::Number, "m3", {}});
  table.columns.push_back({"shown_from", CellKind::Text, {}, {}});
  DoseReader reader(book);
  TRY(reader.begin(table));
  for (TableRow& row : table.rows) {
    TRY_ASSIGN(std::vector<std::string> texts, reader.cells(row.record));
    for (std::string& text : texts) {
      const CellState state = text.empty() ? CellState::Empty : CellState::Value;
      row.cells.push_back({std::move(text), state});
    }
  }
  return {};
}

}  // namespace steep
