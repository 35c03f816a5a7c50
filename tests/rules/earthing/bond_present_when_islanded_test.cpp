#include <string>
#include <vector>

#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule bond_present_when_islanded;
}

namespace linewright::tests {
namespace {

std::vector<Verdict> judged(std::string_view yaml, std::string_view profile = {}) {
  return verdicts(rules::bond_present_when_islanded, yaml, profile);
}

constexpr std::string_view hybrid = R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
inverters:
  -T1: {kind: hybrid, backup side: yes, neutral in island: opened, bond: closes in island, bond rest: open}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 5 m]}
assemblies:
  +A2: {busbars: {-WB1: 63 A}}
chains:
  - [A1, -W2 3×6 mm² 3 m, -T1:ac]
  - [-T1:backup, -W3 3×6 mm² 3 m, -WB1]
states:
  grid: {}
  island: {running: [-T1]}
)";

TEST_CASE("bond in island: an inverter whose link closes in island holds") {
  const auto all = judged(hybrid);
  CHECK(sound(all));
  CHECK(states_with(all, Outcome::holds) == "island");
}

TEST_CASE("bond in island: none is found at the inverter, in island alone") {
  const auto all = judged(rules::bond_present_when_islanded.example);
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().element == "-T1");
  CHECK(broken_ones(all).front().state == "island");
  CHECK(broken_ones(all).front().message == "the live neutral has no joint to earth, must be 1");
}

TEST_CASE("bond in island: a contact that stays open is as good as none") {
  CHECK(states_with(judged(with(hybrid, "closes in island", "stays open")), Outcome::broken) ==
        "island");
}

TEST_CASE("bond in island: without one, the circuits and the RCDs that cannot trip are named") {
  const auto all = judged(with(with(hybrid, "closes in island", "none"), "assemblies:", R"(  +A3:
    feed: [-WB1, -W4 3×6 mm² 3 m]
    circuits:
      - {id: -F31, name: Office, device: B16 1P+N 30 mA type A, cable: 3×2.5 mm² 9 m, use: sockets}
assemblies:)"));
  REQUIRE(broken_ones(all).size() == 1);
  REQUIRE(broken_ones(all).front().notes.size() == 2);
  CHECK(broken_ones(all).front().notes[0].text == "an earth fault trips nothing: 'Office'");
  CHECK(broken_ones(all).front().notes[1].text == "no earth-fault current can pass '-F31'");
}

// The one cause is the joint that is not there, however many circuits hang on it.
TEST_CASE("bond in island: for forty circuits on two boards it is one danger that names them all") {
  const std::string yaml = with(with(hybrid, "closes in island, bond rest: open", "none"),
                                "assemblies:", "BOARDSassemblies:");
  std::string boards;
  std::vector<std::string> names;
  for (const std::string board : {"+A3", "+A4"}) {
    boards += "  " + board + ":\n    feed: [-WB1, " + (board == "+A3" ? "-W4" : "-W5") +
              " 3×6 mm² 3 m]\n    circuits:\n";
    for (int i = 1; i <= 20; ++i) {
      names.push_back("Group " + board + " " + std::to_string(i));
      boards += "      - {name: " + names.back() +
                ", device: B16 1P+N 30 mA type A, cable: 3×2.5 mm² 9 m, use: sockets}\n";
    }
  }
  const Report report = report_on(with(yaml, "BOARDS", boards));
  std::vector<Finding> dangers;
  for (const Finding& finding : report.findings)
    if (finding.severity != Severity::advice) dangers.push_back(finding);
  REQUIRE(dangers.size() == 1);
  CHECK(dangers.front().rule == "earthing/bond-present-when-islanded");
  CHECK(dangers.front().element == "-T1");
  REQUIRE(names.size() == 40);
  std::string notes;
  for (const Note& note : dangers.front().notes)
    notes += note.text + "\n";
  for (const std::string& name : names)
    CHECK(notes.find("'" + name + "'") != std::string::npos);
}

TEST_CASE("bond in island: an inverter that does not say what its link does is open") {
  const auto all = judged(with(hybrid, ", bond: closes in island, bond rest: open", ""));
  REQUIRE(open_ones(all).size() == 1);
  CHECK(open_ones(all).front().element == "-T1");
  CHECK(open_ones(all).front().missing == "'bond' of '-T1', or its position in this state");
}

TEST_CASE("bond in island: an inner contact that may leave the supply's neutral joined is open") {
  const auto all = judged(with(with(hybrid, "neutral in island: opened, ", ""),
                               "bond: closes in island", "bond: none"));
  CHECK(broken_ones(all).empty());
  CHECK(says(all, Outcome::open, "-T1", "island"));
}

TEST_CASE("bond in island: a link beside the inverter does as well as one inside it") {
  CHECK(sound(judged(with(with(hybrid, "bond: closes in island, bond rest: open", "bond: none"),
                          "{-XE1: 20 ohm}}",
                          "{-XE1: 20 ohm}, links: {-X5: {at: -WB1, contact: yes, rest: open, "
                          "closed in: [island]}}}"))));
}

TEST_CASE(
    "bond in island: where the country keeps the neutral joined, no local link is asked for") {
  CHECK(silent(judged(rules::bond_present_when_islanded.example, "AU")));
}

TEST_CASE("bond in island: far from any grid the inverter needs a bond in every country") {
  const std::string_view off_grid = R"(
inverters:
  -T1: {kind: battery, grid: forming, phases: 1, bond: none}
boards:
  +A1:
    feed: [-T1:ac, -W1 3×6 mm² 5 m]
    circuits:
      - {id: -F1, device: B10 2P 30 mA type A, cable: 3×1.5 mm² 5 m, use: lighting}
states:
  island: {running: [-T1]}
)";
  CHECK(says(judged(off_grid, "AU"), Outcome::broken, "-T1", "island"));
  CHECK(says(judged(off_grid, "GB"), Outcome::broken, "-T1", "island"));
}

TEST_CASE("bond in island: one double insulated item on a separated source needs none") {
  const std::string_view site = R"(
inverters:
  -T1: {kind: battery, grid: forming, phases: 1, bond: none}
boards:
  +A1:
    feed: [-T1:ac, -W1 2×2.5 mm² 5 m]
    circuits:
      - {id: -F1, device: B10 2P, cable: 2×1.5 mm² 5 m, use: separated, items: 1, class two: yes}
states:
  island: {running: [-T1]}
)";
  CHECK(silent(judged(site)));
  // How many items it may serve is another rule's question.
  CHECK(silent(judged(with(site, "items: 1", "items: 2"))));
  CHECK(says(judged(with(site, "use: separated", "use: fixed")), Outcome::broken, "-T1", "island"));
}

}  // namespace
}  // namespace linewright::tests
