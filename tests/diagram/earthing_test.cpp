#include <set>

#include <catch2/catch.hpp>
#include <fmt/core.h>

#include "diagram/earthing_sheet.hpp"
#include "diagram/earthing_tree.hpp"
#include "diagram/overview.hpp"
#include "diagram/sheet_checks.hpp"
#include "drawing/metrics.hpp"
#include "drawing/tools.hpp"
#include "support/paths.hpp"
#include "support/site_from.hpp"

using namespace linewright;
using namespace linewright::tests;
using diagram::EarthEnd;
using diagram::EarthNode;

namespace {

site::Site sample(const std::string& name) {
  return site_from(read_file(fmt::format("{}/samples/{}/{}.yaml", source_folder(), name, name)));
}

/// A house with a generator behind its board; `earthing` is what stands in that section.
site::Site house(const std::string& earthing) {
  return site_from(fmt::format(R"(
supply: {{system: 1/N/PE 230 V 50 Hz, earthing: TT}}
earthing: {{main terminal: A1, {}}}
generators:
  -G1: {{power: 5 kVA, neutral: linked}}
boards:
  +A1:
    feed: [supply, -W1 2×16 mm² Cu 4 m, -F1 RCD 63 A 2P 100 mA type A]
    circuits: [{{name: Socket, device: B16 1P+N, cable: 3×2.5 mm² Cu 9 m}}]
  +A2:
    feed: [A1, -F2 C32 2P, -W2 3×6 mm² Cu 9 m]
    circuits: [{{name: Shed, device: B16 1P+N, cable: 3×1.5 mm² Cu 3 m}}]
chains:
  - [-G1, -W3 3×4 mm² Cu 12 m, -Q1 switch-disconnector 32 A 2P, A2]
)",
                               earthing));
}

const EarthNode* find(const EarthNode& node, const std::string& name) {
  if (node.designation == name || (!node.words.empty() && node.words.front() == name)) return &node;
  for (const EarthNode& child : node.children)
    if (const EarthNode* found = find(child, name)) return found;
  return nullptr;
}

bool says(const std::vector<std::string>& lines, const std::string& words) {
  for (const std::string& line : lines)
    if (line.find(words) != std::string::npos) return true;
  return false;
}

void collect(const EarthNode& node, std::multiset<std::string>& into) {
  if (!node.designation.empty()) into.insert(node.designation);
  for (const EarthNode& child : node.children)
    collect(child, into);
}

std::string words_of(const diagram::Document& document, const std::string& sheet) {
  std::string words;
  for (const diagram::Sheet& one : document.sheets)
    if (one.name.starts_with(sheet))
      for (const diagram::Group& group : one.groups)
        for (const diagram::Item& item : group.items)
          if (const auto* text = std::get_if<diagram::Text>(&item)) words += text->text + "\n";
  return words;
}

}  // namespace

TEST_CASE("earthing: each conductor leads from its bar to what it bonds, with its size") {
  const EarthNode root = diagram::earthing_tree(house("electrodes: {-XE1: 40 ohm}"));
  REQUIRE(root.end == EarthEnd::terminal);
  const EarthNode* first = find(root, "+A1");
  REQUIRE(first != nullptr);
  const EarthNode* second = find(*first, "+A2");  // fed from +A1 by -W2
  REQUIRE(second != nullptr);
  CHECK(second->conductor == std::vector<std::string>{"in -W2", "PE 6 mm² Cu"});
  const EarthNode* machine = find(*second, "-G1");
  REQUIRE(machine != nullptr);
  CHECK(machine->conductor == std::vector<std::string>{"in -W3", "PE 4 mm² Cu"});
  CHECK(says(machine->words, "N–PE: fixed, in the machine"));
  CHECK(find(root, "-X0") == nullptr);  // the cable of a TT supply has no protective conductor
}

TEST_CASE("earthing: what the file says of electrodes and bonding is drawn, what not is listed") {
  const site::Site silent = house("electrodes: {-XE1: 40 ohm}");
  const EarthNode unsaid = diagram::earthing_tree(silent);
  REQUIRE(find(unsaid, "-XE1") != nullptr);
  CHECK(says(find(unsaid, "-XE1")->conductor, "size not stated"));
  const EarthNode root = diagram::earthing_tree(house(
      "conductor: 16 mm², bonding: {water pipe: 10 mm²}, electrodes: {-XE1: {resistance: 40 ohm, "
      "type: rod 2.5 m}}"));
  const EarthNode* electrode = find(root, "-XE1");
  REQUIRE(electrode != nullptr);
  CHECK(says(electrode->conductor, "16 mm²"));
  CHECK(says(electrode->words, "rod 2.5 m"));
  CHECK(says(electrode->words, "RA 40 Ω"));
  const EarthNode* pipe = find(root, "water pipe");
  REQUIRE(pipe != nullptr);
  CHECK(says(pipe->conductor, "10 mm²"));
  CHECK(says(diagram::unsaid_of_earthing(silent), "type of the electrode -XE1"));
  CHECK(says(diagram::unsaid_of_earthing(silent), "size of the earthing conductor"));
  CHECK(says(diagram::unsaid_of_earthing(silent), "bonding of pipes"));
}

TEST_CASE("earthing: nothing is joined twice, and every board of the samples is reached") {
  const std::string name = GENERATE("tarn-house", "terrace", "clinic", "farm");
  const site::Site site = sample(name);
  std::multiset<std::string> names;
  collect(diagram::earthing_tree(site), names);
  CAPTURE(name);
  for (const std::string& one : names) {
    CAPTURE(one);
    CHECK(names.count(one) == 1);
  }
  for (const site::Assembly& assembly : site.assemblies) {
    CAPTURE(assembly.designation);
    CHECK(names.contains(assembly.designation));
  }
}

TEST_CASE("earthing: the sheet tells state by state what joins neutral to earth") {
  const diagram::OverviewNotes notes{
      .states = {{"island", {}, "+A2", "-G1"}, {"off", {}, "none", "–"}}};
  const auto document =
      diagram::overview(house("electrodes: {-XE1: 40 ohm}"), drawing::metrics(), notes);
  const std::string words = words_of(document, "earthing");
  CHECK(words.find("-G1: fixed, in the machine") != std::string::npos);
  CHECK(words.find("Neutral joined to earth, state by state") != std::string::npos);
}

TEST_CASE("earthing: a PEN that is divided on site joins neutral and earth there") {
  const diagram::OverviewNotes notes{.states = {{"island", {}, "+A3", "supply (TN-C-S)"}}};
  const auto sheet_of = [&](const site::Site& site) {
    return words_of(diagram::overview(site, drawing::metrics(), notes), "earthing");
  };
  CHECK(sheet_of(sample("farm")).find("at -X2, where the PEN is divided") != std::string::npos);
  CHECK(sheet_of(house("electrodes: {}")).find("in the distributor's network") !=
        std::string::npos);
}

TEST_CASE("earthing: the overview leads to the sheet and the sheet back") {
  const auto document =
      diagram::overview(sample("tarn-house"), drawing::metrics(), diagram::OverviewNotes{});
  bool there = false;
  bool back = false;
  for (const diagram::Sheet& sheet : document.sheets)
    for (const diagram::Group& group : sheet.groups)
      for (const diagram::Item& item : group.items)
        if (const auto* link = std::get_if<diagram::Link>(&item)) {
          there = there || (sheet.name == "overview" && link->target == "earthing#earthing -XE");
          back = back || (sheet.name == "earthing" && link->target == "overview#-XE");
        }
  CHECK(there);
  CHECK(back);
}

TEST_CASE(
    "earthing: forty boards, and boards five deep, are drawn on small paper without a fault") {
  std::string yaml =
      "site: {paper: A4 landscape}\nsupply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}\n"
      "earthing: {main terminal: A1}\nboards:\n"
      "  +A1: {feed: [supply, -W1 3×16 mm² Cu 4 m]}\n";
  for (int i = 2; i <= 40; ++i)
    yaml += fmt::format(
        "  +A{0}: {{feed: [A{1}, -F{0} C16 2P, -W{0} 3×6 mm² Cu 9 m], circuits: [{{name: Lights, "
        "device: B10 1P+N, cable: 3×1.5 mm² Cu 3 m}}]}}\n",
        i, i <= 6 ? i - 1 : 1);
  const site::Site site = site_from(yaml);
  const diagram::EarthingSheets drawn =
      diagram::earthing_sheets(site, drawing::metrics(), diagram::OverviewNotes{}, {});
  REQUIRE(drawn.sheets.size() > 1);
  std::string faults;
  std::string words;
  for (const diagram::Sheet& sheet : drawn.sheets) {
    for (const Faults& list :
         {covered_texts(sheet, drawing::metrics()), overlapping_symbols(sheet, drawing::metrics()),
          outside_frame(sheet, drawing::metrics()), oblique_wires(sheet)})
      for (const std::string& fault : list)
        faults += sheet.name + ": " + fault + "\n";
    for (const diagram::Group& group : sheet.groups)
      words += group.id + "\n";
  }
  CHECK(faults == "");
  for (int i = 1; i <= 40; ++i)
    CHECK(words.find(fmt::format("earthing +A{}\n", i)) != std::string::npos);
}
