#include "diagram/overview.hpp"

#include <algorithm>
#include <set>

#include <catch2/catch.hpp>
#include <fmt/core.h>

#include "diagram/made_sites.hpp"
#include "diagram/sheet_checks.hpp"
#include "drawing/display_list.hpp"
#include "drawing/metrics.hpp"
#include "drawing/svg.hpp"
#include "drawing/symbol_table.hpp"
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

site::Site sample(const std::string& name) {
  return site_from(read_file(fmt::format("{}/samples/{}/{}.yaml", source_folder(), name, name)));
}

std::string listed(const Faults& faults) {
  std::string text;
  for (const std::string& fault : faults)
    text += fault + "\n";
  return text;
}

/// How many sheets show the site itself.
std::ptrdiff_t diagrams(const diagram::Document& document) {
  return std::ranges::count_if(document.sheets, [](const diagram::Sheet& sheet) {
    return sheet.name == "overview" || sheet.name.starts_with("boards");
  });
}

diagram::OverviewNotes some_notes() {
  diagram::OverviewNotes notes{.devices = {"-Q1", "-Q2"}, .rules = "IEC 60364, profile FR"};
  for (const char* name : {"grid", "island", "generator", "bypass", "off"})
    notes.states.push_back(
        {.name = name, .positions = {"I", "0"}, .alive = "+A3 and +A4", .bond = "supply (TT)"});
  return notes;
}

std::string drawn(const diagram::Document& document) {
  const auto rendered = drawing::render(document, drawing::built_in_symbols());
  REQUIRE(rendered);
  std::string bytes;
  for (std::size_t i = 0; i < document.sheets.size(); ++i) {
    const auto svg = drawing::write_svg(*rendered, {.sheet = i});
    REQUIRE(svg);
    bytes += *svg;
  }
  return bytes;
}

}  // namespace

TEST_CASE("overview: nothing covers anything on the samples' sheets") {
  const std::string name = GENERATE("tarn-house", "terrace", "clinic", "farm");
  const site::Site site = sample(name);
  const auto document = diagram::overview(site, metrics(), some_notes());
  CAPTURE(name);
  CHECK(listed(all_faults(document, site, metrics())) == "");
}

TEST_CASE("overview: nothing covers anything on sheets of sites made by chance") {
  const auto seed = GENERATE(range(1U, 25U));
  const std::string yaml = made_site(seed);
  const site::Site site = site_from(yaml);
  const auto document = diagram::overview(site, metrics(), some_notes());
  CAPTURE(seed, yaml);
  CHECK(listed(all_faults(document, site, metrics())) == "");
}

TEST_CASE("overview: boards behind two inverters, with and without a tie, stand apart") {
  // -T1 stands between +A1 and +A3, -T2 between +A5 and +A6; two electrodes at one terminal.
  const std::string tie =
      GENERATE("", "  - [A3, -F9 C32 2P normally open, -W9 3×6 mm² 40 m, A6]\n");
  const site::Site site = site_from(R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S, fuse: 63 A gG}
earthing: {electrodes: {-XE1: 20 ohm, -XE2: 20 ohm}}
inverters:
  -T1: {kind: hybrid, backup side: yes, power: 5 kVA, bond: closes in island}
  -T2: {kind: hybrid, backup side: yes, power: 5 kVA, bond: closes in island}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 3 m, -Q10 switch-disconnector 63 A 2P]
    circuits:
      - {id: -F7, name: Barn, feeds: +A5, device: C40 2P 6 kA, cable: 3×16 mm² 40 m}
  +A5: {name: Barn main}
  +A3:
    service: backup
    feed: [-T1:backup, -W4 3×10 mm² 5 m, -Q3 switch-disconnector 63 A 2P]
    circuits:
      - {id: -F1, name: Sockets, device: B16 1P+N 30 mA type A, cable: 3×2.5 mm² 20 m}
  +A6:
    service: backup
    feed: [-T2:backup, -W6 3×10 mm² 5 m, -Q6 switch-disconnector 63 A 2P]
    circuits:
      - {id: -F2, name: Lights, device: B10 1P+N 30 mA type A, cable: 3×1.5 mm² 20 m}
chains:
  - [A1, -F21 C32 2P two-way, -W21 3×6 mm² 3 m, -T1:ac]
  - [A5, -F22 C32 2P two-way, -W22 3×6 mm² 3 m, -T2:ac]
)" + tie);
  const auto document = diagram::overview(site, metrics(), some_notes());
  CHECK(diagrams(document) == 1);
  CHECK(listed(all_faults(document, site, metrics())) == "");
}

TEST_CASE("overview: the same site gives the same bytes") {
  const site::Site site = sample("tarn-house");
  CHECK(drawn(diagram::overview(site, metrics(), some_notes())) ==
        drawn(diagram::overview(site, metrics(), some_notes())));
}

TEST_CASE("overview: the diagram of a house of ordinary size stays on one sheet") {
  for (const char* name : {"tarn-house", "terrace"})
    for (const diagram::Sheet& sheet :
         diagram::overview(sample(name), metrics(), some_notes()).sheets)
      CHECK_FALSE(sheet.name.starts_with("boards"));
}

TEST_CASE("overview: nothing covers anything on any paper") {
  const std::string name = GENERATE("tarn-house", "terrace", "clinic", "farm");
  const auto paper =
      GENERATE(values<site::PaperFormat>({{site::PaperSize::a3, site::PaperTurn::portrait},
                                          {site::PaperSize::a4, site::PaperTurn::landscape},
                                          {site::PaperSize::a4, site::PaperTurn::portrait}}));
  site::Site site = sample(name);
  site.title.paper = paper;
  const auto document = diagram::overview(site, metrics(), some_notes());
  CAPTURE(name, document.sheets.front().width, document.sheets.front().height);
  CHECK(listed(all_faults(document, site, metrics())) == "");
}

TEST_CASE("overview: the symbols of all sheets stand in one legend, whole, on one sheet") {
  const std::string name = GENERATE("tarn-house", "terrace", "clinic", "farm");
  const auto document = diagram::overview(sample(name), metrics(), some_notes());
  std::set<std::string> drawn;
  std::set<std::string> explained;
  int legends = 0;
  for (const diagram::Sheet& sheet : document.sheets)
    for (const diagram::Group& group : sheet.groups) {
      const bool legend = group.kind == "notes" && group.title.starts_with("Symbols used");
      legends += legend ? 1 : 0;
      for (const diagram::Item& item : group.items)
        if (const auto* use = std::get_if<diagram::SymbolUse>(&item))
          (legend ? explained : drawn).insert(use->symbol);
    }
  CAPTURE(name);
  CHECK(legends == 1);
  // One set of strokes stands for all; supply and terminal are named where they stand.
  for (const std::string& symbol : drawn)
    if (!symbol.starts_with("conductors-") && !symbol.ends_with("-swapped") &&
        symbol != "supply-point" && symbol != "main-earthing-terminal") {
      CAPTURE(symbol);
      CHECK(explained.contains(symbol));
    }
}

TEST_CASE(
    "overview: notes for which no sheet has room are all told, once, on as many as it takes") {
  site::Site site = sample("terrace");
  site.title.notes.clear();
  for (int i = 0; i < 300; ++i)
    site.title.notes.push_back(fmt::format("Note with the mark ({}).", i));
  const auto document = diagram::overview(site, metrics(), some_notes());
  CHECK(listed(all_faults(document, site, metrics())) == "");
  std::string words;
  for (const diagram::Sheet& sheet : document.sheets)
    for (const diagram::Group& group : sheet.groups)
      for (const diagram::Item& item : group.items)
        if (const auto* text = std::get_if<diagram::Text>(&item)) words += text->text + "\n";
  for (int i = 0; i < 300; ++i) {
    const std::string mark = fmt::format("({}).", i);
    const std::size_t at = words.find(mark);
    CAPTURE(mark);
    REQUIRE(at != std::string::npos);
    CHECK(words.find(mark, at + 1) == std::string::npos);
  }
}

TEST_CASE("overview: a farm is divided, each board whole on one sheet") {
  const site::Site site = sample("farm");
  const auto document = diagram::overview(site, metrics(), some_notes());
  REQUIRE(document.sheets.size() > 1);
  for (std::size_t board = 0; board < site.assemblies.size(); ++board) {
    std::set<std::string> sheets;
    for (const diagram::Sheet& sheet : document.sheets)
      for (const diagram::Group& group : sheet.groups) {
        const std::size_t element = group.kind == "element" ? site.find(group.id) : site::none;
        if (element != site::none && site.elements[element].assembly == board)
          sheets.insert(sheet.name);
      }
    CAPTURE(site.assemblies[board].designation);
    CHECK(sheets.size() == 1);
  }
}

TEST_CASE("overview: every title block carries the caution") {
  const auto document = diagram::overview(sample("farm"), metrics(), some_notes());
  for (const diagram::Sheet& sheet : document.sheets) {
    bool said = false;
    for (const diagram::Group& group : sheet.groups)
      for (const diagram::Item& item : group.items)
        if (const auto* text = std::get_if<diagram::Text>(&item))
          said = said || text->text.find("prove dead before touching") != std::string::npos;
    CAPTURE(sheet.name);
    CHECK(said);
  }
}

TEST_CASE("overview: open dangers are listed and named in the title") {
  diagram::OverviewNotes notes = some_notes();
  notes.dangers = {"'island' joins neutral and earth 2 times, must be 1"};
  const auto document = diagram::overview(sample("terrace"), metrics(), notes);
  std::string words;
  for (const diagram::Group& group : document.sheets.front().groups)
    for (const diagram::Item& item : group.items)
      if (const auto* text = std::get_if<diagram::Text>(&item)) words += text->text + "\n";
  CHECK(words.find("Open dangers") != std::string::npos);
  CHECK(words.find("has open dangers") != std::string::npos);
}

TEST_CASE("overview: a site of one socket is drawn") {
  const site::Site site = site_from(R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TT}
boards:
  +A1: {feed: [supply, -F1 RCD 25 A 2P 30 mA type A], circuits: [{name: Socket, device: B16 1P+N}]}
)");
  const auto document = diagram::overview(site, metrics(), {});
  CHECK(diagrams(document) == 1);
  CHECK(listed(all_faults(document, site, metrics())) == "");
}
