#include <algorithm>
#include <map>
#include <set>

#include <catch2/catch.hpp>
#include <fmt/format.h>

#include "diagram/divide.hpp"
#include "diagram/feeding.hpp"
#include "diagram/fill.hpp"
#include "diagram/made_sites.hpp"
#include "diagram/overview.hpp"
#include "diagram/sheet_checks.hpp"
#include "diagram/sheets.hpp"
#include "drawing/metrics.hpp"
#include "drawing/tools.hpp"
#include "support/paths.hpp"
#include "support/site_from.hpp"

using namespace linewright;
using namespace linewright::tests;

namespace {

const diagram::Metrics& metrics() {
  static const diagram::Metrics known = drawing::metrics();
  return known;
}

/// A board of a made site: how many circuits it has, and the number of the board that feeds it.
struct BoardOf {
  int circuits = 0;
  int fed_by = 0;  ///< 0: the supply
};

// Boards +A1, +A2 … in this order, each way with an RCBO and its cable.
site::Site site_of(const std::vector<BoardOf>& boards) {
  std::string text =
      "site: {name: Boards, date: 2026-01-01}\n"
      "supply: {system: 3/N/PE 230/400 V 50 Hz, earthing: TN-S, fuse: 400 A gG}\n"
      "types:\n  way: {device: B10 1P+N 30 mA type A, cable: 3×1.5 mm² Cu 20 m, load: 0.3 kW}\n"
      "boards:\n";
  for (std::size_t b = 0; b < boards.size(); ++b) {
    const std::size_t id = b + 1;
    text += fmt::format("  +A{}:\n    name: Board {}\n    busbar: 63 A\n", id, id);
    if (boards[b].fed_by == 0) text += "    feed: [supply, -W1 5×70 mm² Cu 20 m, -Q1 B63 4P]\n";
    text += "    circuits:\n";
    for (std::size_t fed = 0; fed < boards.size(); ++fed)
      if (boards[fed].fed_by == static_cast<int>(id))
        text += fmt::format(
            "      - {{id: -F{0}.{1}, name: Feed {1}, feeds: +A{1}, device: C63 4P, cable: 5×16 "
            "mm² Cu 20 m}}\n",
            id, fed + 1);
    for (int way = 1; way <= boards[b].circuits; ++way)
      text += fmt::format("      - {{type: way, name: Lights {1}, id: -F{0}.L{1}}}\n", id, way);
  }
  return site_from(text);
}

// Twenty ways a board, eight boards fed by each.
site::Site campus(int boards) {
  std::vector<BoardOf> all;
  for (int b = 1; b <= boards; ++b) {
    const int fed = std::clamp(boards - (8 * (b - 1) + 1), 0, 8);
    all.push_back({20 - fed, (b + 6) / 8});
  }
  return site_of(all);
}

diagram::Division division_of(const site::Site& site) {
  const diagram::HoldsNotes always = [](const diagram::SheetPlan&) { return true; };
  return diagram::divide(site, metrics(), always);
}

bool is_board_sheet(const diagram::Sheet& sheet) {
  return sheet.name.starts_with("boards-");
}

std::string listed(const Faults& faults) {
  return fmt::format("{}", fmt::join(faults, "\n"));
}

/// One end of a reference as it is drawn.
struct DrawnEnd {
  std::size_t sheet = 0;
  std::string zone;   ///< where its arrow points
  std::string words;  ///< all that is written beside it
};

// By the id of its group.
std::map<std::string, DrawnEnd> ends_in(const diagram::Document& document) {
  std::map<std::string, DrawnEnd> ends;
  for (std::size_t s = 0; s < document.sheets.size(); ++s) {
    const diagram::Sheet& sheet = document.sheets[s];
    for (const diagram::Group& group : sheet.groups) {
      if (group.kind != "reference" || group.id.empty()) continue;
      DrawnEnd end{.sheet = s, .zone = {}, .words = {}};
      for (const diagram::Item& item : group.items) {
        if (const auto* line = std::get_if<diagram::Polyline>(&item))
          end.zone = diagram::zone_of(diagram::paper_of(sheet), line->points.back());
        if (const auto* text = std::get_if<diagram::Text>(&item)) end.words += text->text + "\n";
      }
      ends[group.id] = end;
    }
  }
  return ends;
}

Faults unpaired_references(const diagram::Document& document) {
  Faults faults;
  const auto ends = ends_in(document);
  for (const auto& [id, end] : ends) {
    std::string partner = id;
    const bool in = id.ends_with(" in");
    partner.replace(id.size() - (in ? 2 : 3), std::string::npos, in ? "out" : "in");
    const auto other = ends.find(partner);
    if (other == ends.end()) {
      faults.push_back(id + " has no other end");
      continue;
    }
    const std::string wanted =
        other->second.sheet == end.sheet
            ? other->second.zone
            : fmt::format("sheet {}, {}", other->second.sheet + 1, other->second.zone);
    if (end.words.find(wanted + "\n") == std::string::npos)
      faults.push_back(fmt::format("{} says '{}', not '{}'", id, end.words, wanted));
  }
  return faults;
}

// All boards of the sheets in reading order: sheet, shelf, from left to right.
std::vector<std::size_t> boards_as_read(const diagram::Division& division) {
  std::vector<std::size_t> boards;
  for (const diagram::SheetPlan& sheet : division.sheets) {
    for (const diagram::Part& part : sheet.parts) {
      std::vector<std::pair<double, std::size_t>> shelf;
      for (std::size_t h = 0; h < part.plan.hubs.size(); ++h) {
        const diagram::Hub& hub = part.plan.hubs[h];
        if (hub.kind != diagram::HubKind::bar || hub.tier != 1 || hub.continued) continue;
        shelf.emplace_back(part.placed.frames[hub.frame].x, part.plan.frames[hub.frame].assembly);
      }
      std::sort(shelf.begin(), shelf.end());
      for (const auto& [x, board] : shelf)
        boards.push_back(board);
    }
  }
  return boards;
}

std::size_t loads_in(const diagram::Plan& plan) {
  return static_cast<std::size_t>(
      std::count_if(plan.hubs.begin(), plan.hubs.end(),
                    [](const diagram::Hub& hub) { return hub.kind == diagram::HubKind::load; }));
}

// How many circuits hang from each piece of the bar of a board, in the order of the sheets.
std::vector<std::size_t> portions_of(const diagram::Division& division, std::size_t board) {
  std::vector<std::size_t> portions;
  for (const diagram::SheetPlan& sheet : division.sheets) {
    for (const diagram::Part& part : sheet.parts) {
      for (std::size_t h = 0; h < part.plan.hubs.size(); ++h) {
        const diagram::Hub& hub = part.plan.hubs[h];
        if (hub.kind != diagram::HubKind::bar || part.plan.frames[hub.frame].assembly != board)
          continue;
        std::size_t count = 0;
        for (const diagram::Chain& chain : part.plan.chains)
          count += chain.upper == h && part.plan.hubs[chain.lower].kind == diagram::HubKind::load
                       ? 1U
                       : 0U;
        portions.push_back(count);
      }
    }
  }
  return portions;
}

}  // namespace

TEST_CASE("division: everything of a campus is drawn once, legibly, with references both ways") {
  const int boards = GENERATE(5, 17, 50);
  const site::Site site = campus(boards);
  const auto document = diagram::overview(site, metrics(), {});
  CAPTURE(boards);
  CHECK(listed(all_faults(document, site, metrics())) == "");
  CHECK(listed(unpaired_references(document)) == "");
  CHECK_FALSE(ends_in(document).empty());
}

TEST_CASE("division: references of the samples and of made sites name the other end's place") {
  for (const char* name : {"farm", "clinic"}) {
    const site::Site site =
        site_from(read_file(fmt::format("{}/samples/{}/{}.yaml", source_folder(), name, name)));
    CHECK(listed(unpaired_references(diagram::overview(site, metrics(), {}))).empty());
  }
  const auto seed = GENERATE(5U, 7U, 10U, 14U, 15U, 20U);
  CAPTURE(seed);
  const site::Site site = site_from(made_site(seed));
  CHECK(listed(unpaired_references(diagram::overview(site, metrics(), {}))).empty());
}

TEST_CASE("division: sheets of a campus are filled, but the last one may have room") {
  const int boards = GENERATE(5, 25, 50);
  const auto document = diagram::overview(campus(boards), metrics(), {});
  CAPTURE(boards);
  const auto last = std::find_if(document.sheets.rbegin(), document.sheets.rend(), is_board_sheet);
  REQUIRE(last != document.sheets.rend());
  for (const diagram::Sheet& sheet : document.sheets) {
    if (!is_board_sheet(sheet) || &sheet == &*last) continue;
    CAPTURE(sheet.name);
    const double share = diagram::fill(sheet, metrics());
    CHECK(share >= 0.55);
    CHECK(share <= 0.90);
  }
}

TEST_CASE("fill: an empty sheet has none, half of the drawing area is a half") {
  const site::Site site = site_of({{1, 0}});
  const diagram::Paper paper = diagram::paper_of(site);
  diagram::Sheet sheet = diagram::sheet_of(paper, "s", "S");
  CHECK(diagram::fill(sheet, metrics()) == 0.0);
  // The left half of the frame, 2.5 mm less, as each extent takes 2.5 mm more to all sides.
  const diagram::Rect frame = paper.frame;
  sheet.groups.push_back({.kind = "boundary"});
  sheet.groups.back().items.emplace_back(
      diagram::Box{.rect = {frame.x, frame.y, frame.width / 2.0 - 2.5, frame.height}});
  CHECK(diagram::fill(sheet, metrics()) == Approx(0.5).margin(0.01));
  // What is under the title block counts on neither side: 180 mm x 56 mm of 390 mm x 277 mm.
  sheet.groups.push_back({.kind = "title-block"});
  sheet.groups.back().items.emplace_back(diagram::Box{
      .rect = {frame.x + 212.5, frame.y + 222.5, frame.width - 212.5, frame.height - 222.5}});
  const double all = 390.0 * 277.0;
  CHECK(diagram::fill(sheet, metrics()) == Approx(all / 2.0 / (all - 180.0 * 57.0)).margin(0.01));
}

TEST_CASE("division: boards stand in the order of the file") {
  const site::Site site =
      site_of({{6, 0}, {12, 1}, {3, 1}, {18, 1}, {7, 1}, {20, 1}, {2, 1}, {9, 1}, {14, 1}, {5, 1}});
  const std::vector<std::size_t> boards = boards_as_read(division_of(site));
  REQUIRE(boards.size() == 10);
  CHECK(std::is_sorted(boards.begin(), boards.end()));
}

TEST_CASE("division: a board wider than a sheet is divided into even portions") {
  const int circuits = GENERATE(41, 50, 90, 130);
  const diagram::Division division = division_of(site_of({{2, 0}, {circuits, 1}}));
  const std::vector<std::size_t> portions = portions_of(division, 1);
  CAPTURE(circuits, fmt::format("{}", fmt::join(portions, " ")));
  REQUIRE(portions.size() > 1);
  std::size_t sum = 0;
  for (const std::size_t portion : portions)
    sum += portion;
  CHECK(sum == static_cast<std::size_t>(circuits));
  CHECK(*std::max_element(portions.begin(), portions.end()) -
            *std::min_element(portions.begin(), portions.end()) <=
        1);
}

TEST_CASE("division: a board that another one feeds stays below it if both fit a sheet") {
  // +A3 hangs from +A2; twenty circuits fit side by side, forty-two do not.
  const auto sheets_with_both = [](int circuits) {
    int count = 0;
    for (const diagram::SheetPlan& sheet :
         division_of(site_of({{30, 0}, {12, 1}, {circuits, 2}})).sheets)
      for (const diagram::Part& part : sheet.parts) {
        const auto boards = diagram::boards_on(part.plan);
        const std::set<std::size_t> shown(boards.begin(), boards.end());
        const bool nested = part.plan.frames.size() == 2 && loads_in(part.plan) > 0;
        count += shown == std::set<std::size_t>{1, 2} && nested ? 1 : 0;
      }
    return count;
  };
  CHECK(sheets_with_both(8) == 1);
  CHECK(sheets_with_both(30) == 0);
}

TEST_CASE("division: five boards deep, each with few circuits, all drawn once") {
  const site::Site site = site_of({{12, 0}, {12, 1}, {12, 2}, {12, 3}, {12, 4}, {12, 5}});
  const auto document = diagram::overview(site, metrics(), {});
  CHECK(listed(all_faults(document, site, metrics())) == "");
  CHECK(listed(unpaired_references(document)) == "");
}

TEST_CASE("division: a board that feeds sixty boards is divided, nothing is lost") {
  std::vector<BoardOf> boards{{4, 0}};
  for (int b = 0; b < 60; ++b)
    boards.push_back({3, 1});
  const site::Site site = site_of(boards);
  const auto document = diagram::overview(site, metrics(), {});
  CHECK(listed(all_faults(document, site, metrics())) == "");
  CHECK(listed(unpaired_references(document)) == "");
}

TEST_CASE("division: the bars of a panel with many inverters go on on further sheets") {
  const int inverters = GENERATE(5, 8, 9, 16);
  std::string text =
      "supply: {system: 3/N/PE 230/400 V 50 Hz, earthing: TN-S, fuse: 400 A gG}\n"
      "earthing: {main terminal: A1, electrodes: {-XE1: 5 ohm}}\ninverters:\n";
  for (int i = 1; i <= inverters; ++i)
    text += fmt::format(
        "  -T{0}: {{kind: hybrid, backup side: yes, power: 10 kVA, bond: none, pv: {{id: -E{0}, "
        "strings: 2, power: 4.9 kWp, chain: [-Q2{0} disconnector 25 A 2P]}}, battery: {{id: -B{0}, "
        "energy: 10.2 kWh, chain: [-F3{0} fuse-switch 40 A 2P]}}}}\n",
        i);
  text +=
      "panel:\n  id: +A2\n  interior: one source with bypass\n  grid: [A1, -W2 5×16 mm² Cu 9 m]\n"
      "  inverters:\n";
  for (int i = 1; i <= inverters; ++i)
    text += fmt::format(
        "    -T{0}: {{in: [-F4{0} C20 4P, -W1{0} 5×6 mm² Cu 6 m], out: [-W4{0} 5×6 mm² Cu 6 m, "
        "-F5{0} C20 4P]}}\n",
        i);
  text +=
      "boards:\n  +A1: {feed: [supply, -W1 5×70 mm² Cu 20 m], circuits: [{id: -F11, name: Lights, "
      "device: B10 1P+N}]}\n  +A3: {feed: [A2, -W3 5×16 mm² Cu 5 m], circuits: [{id: -F21, name: "
      "Lights, device: B10 1P+N}]}\n";
  const site::Site site = site_from(text);
  const auto document = diagram::overview(site, metrics(), {});
  INFO(inverters);
  CHECK(division_of(site).misfits.empty());
  CHECK(listed(all_faults(document, site, metrics())) == "");
  CHECK(listed(unpaired_references(document)) == "");
}

TEST_CASE("division: the same site gives the same sheets") {
  const site::Site site = campus(20);
  const auto places = [&] {
    std::string text;
    for (const diagram::SheetPlan& sheet : division_of(site).sheets)
      for (const diagram::Part& part : sheet.parts)
        text += fmt::format("{} {}\n", fmt::join(part.placed.chain_x, " "),
                            fmt::join(part.placed.row_top, " "));
    return text;
  };
  CHECK(places() == places());
}

TEST_CASE("feeding: a board hangs from what feeds it alone") {
  // +A3 has a tie to +A4, so both hang from +A2, which feeds them.
  site::Site site = site_from(R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S, fuse: 63 A gG}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m, -Q1 C63 2P], circuits: [{id: -F1, feeds: +A2, device: C40 2P}]}
  +A2: {circuits: [{id: -F2, feeds: +A3, device: C32 2P}, {id: -F3, feeds: +A4, device: C32 2P}]}
  +A3: {circuits: [{id: -F4, name: Lights, device: B10 2P}]}
  +A4: {circuits: [{id: -F5, name: Sockets, device: B16 2P}]}
chains:
  - [A3, -Q9 C32 2P normally open, A4]
)");
  diagram::Plan plan = diagram::contract(site);
  diagram::rank_plan(site, plan);
  const diagram::Feeding feeding = diagram::feeding_of(plan);
  const auto frame = [&](const std::string& board) {
    for (std::size_t f = 0; f < plan.frames.size(); ++f)
      if (plan.frames[f].assembly != site::none &&
          site.assemblies[plan.frames[f].assembly].designation == board)
        return f;
    return site::none;
  };
  CHECK(feeding.above[frame("+A1")] == site::none);
  CHECK(feeding.above[frame("+A2")] == frame("+A1"));
  CHECK(feeding.above[frame("+A3")] == frame("+A2"));
  CHECK(feeding.above[frame("+A4")] == frame("+A2"));
  CHECK(feeding.circuits[frame("+A2")] == 2);
}
