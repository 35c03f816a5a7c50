#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule bond_follows_grid_contactor;
}

namespace linewright::tests {
namespace {

std::vector<Verdict> judged(std::string_view yaml, std::string_view profile = {}) {
  return verdicts(rules::bond_follows_grid_contactor, yaml, profile);
}

constexpr std::string_view contactor = R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing:
  electrodes: {-XE1: 20 ohm}
  links:
    -X5: {at: A2, contact: yes, rest: open, closed in: [island], proved by: [-Q1]}
inverters:
  -T1: {kind: battery, grid: forming, bond: none, synchronises at: [-Q1]}
devices:
  -Q1: {device: contactor 63 A 2P, mirror contact: yes}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 5 m]}
  +A2: {feed: [A1, -W2 3×6 mm² 3 m, -Q1]}
chains:
  - [-T1:ac, -W3 3×6 mm² 3 m, A2]
states:
  grid: {-Q1: closed}
  island: {-Q1: open, running: [-T1]}
)";

/// The same with the contactor's coil led through a contact of the link.
std::string locked() {
  return std::string(contactor) +
         "interlocks:\n"
         "  - {never together: [-Q1: closed, -X5: closed], by: electrical}\n";
}

TEST_CASE("bond follows the contactor: mirror contact and interlock, one each way, hold") {
  const auto all = judged(locked());
  CHECK(sound(all));
  CHECK(says(all, Outcome::holds, "-X5"));
}

/// The same with circuits that the gap of the link leaves without a joint.
std::string with_lights(std::string_view link_words = "") {
  return with(
      with(locked(), "feed: [A1, -W2 3×6 mm² 3 m, -Q1]}",
           "feed: [A1, -W2 3×6 mm² 3 m, -Q1], circuits: [{name: Lights, device: B10 1P+N 30 "
           "mA type A, cable: 3×1.5 mm² 9 m, use: lighting}]}"),
      "proved by: [-Q1]", "proved by: [-Q1]" + std::string(link_words));
}

// Back on the grid the mirror contact drops the link's coil only as -Q1 begins to move.
TEST_CASE("bond follows the contactor: a link that falls only as the contactor closes is advice") {
  const auto broken = broken_ones(judged(contactor));
  REQUIRE(broken.size() == 1);
  CHECK(broken[0].severity == Severity::advice);
  CHECK(broken[0].message == "'-X5' is still closed when '-Q1' closes");
  REQUIRE(broken[0].notes.size() == 1);
  CHECK(broken[0].notes[0].text == "from 'island' to 'grid': '-X5' on its way (close -Q1)");
}

// The longest time to disconnect a final circuit is 0.4 s (TN).
TEST_CASE("bond follows the contactor: the gap before it closes is bounded, or asked on site") {
  const auto asked = questions_of(judged(with_lights()));
  REQUIRE(asked.size() == 1);
  CHECK(asked[0].message == "how long after '-Q1' has moved is '-X5' closed");
  CHECK(asked[0].expected == "0.4 s or less");
  CHECK(questions_of(judged(with_lights(", closes within: 400 ms"))).empty());
  CHECK(sound(judged(with_lights(", closes within: 400 ms"))));
  const auto slow = broken_ones(judged(with_lights(", closes within: 401 ms")));
  REQUIRE(slow.size() == 1);
  CHECK(slow[0].message == "'-X5' closes after 401 ms, must be within 0.4 s");
}

TEST_CASE("bond follows the contactor: a contactor without mirror contact proves nothing") {
  const auto all = judged(rules::bond_follows_grid_contactor.example);
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().message == "'-Q1' has no mirror contact to prove it open");
}

TEST_CASE("bond follows the contactor: mirror contact not stated is open") {
  const auto all = judged(with(contactor, ", mirror contact: yes", ""));
  REQUIRE(open_ones(all).size() == 1);
  CHECK(open_ones(all).front().missing == "'mirror contact' of '-Q1'");
}

TEST_CASE("bond follows the contactor: nothing proved is open") {
  const auto all = judged(with(contactor, ", proved by: [-Q1]", ""));
  REQUIRE(open_ones(all).size() == 1);
  CHECK(open_ones(all).front().missing == "'proved by' of '-X5'");
}

TEST_CASE("bond follows the contactor: software alone is found") {
  const auto site = with(contactor, ", proved by: [-Q1]", "");
  const std::string by_control =
      site + "interlocks: [{never together: [-Q1: closed, -X5: closed], by: control}]\n";
  CHECK(says(judged(by_control), Outcome::broken, "-X5"));
  CHECK(sound(judged(with(by_control, "by: control", "by: mechanical"))));
}

TEST_CASE("bond follows the contactor: proving one of two ways to the supply is not enough") {
  const auto all = judged(with(with(contactor, "-Q1: {device",
                                    "-Q9: switch-disconnector 63 A 2P "
                                    "normally open\n  -Q1: {device"),
                               "chains:", "chains:\n  - [A1, -W9 3×6 mm² 3 m, -Q9, A2]"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().message ==
        "the supply's neutral reaches '-X5' past what is proved open");
}

TEST_CASE("bond follows the contactor: a changeover is no way from one throw to the other") {
  const auto all = judged(with(
      with(locked(), "-Q1: {device", "-Q9: changeover I-0-II 63 A 2P by hand\n  -Q1: {device"),
      "chains:", "chains:\n  - [A1, -W9 3×6 mm² 3 m, -Q9:I]\n  - [A2, -W8 3×6 mm² 3 m, -Q9:II]"));
  CHECK(sound(all));
}

TEST_CASE("bond follows the contactor: nor out of its common and back again") {
  // The bar behind the common of -Q9 leads nowhere else: no neutral comes back from it.
  const auto all = judged(with(
      with(locked(), "-Q1: {device", "-Q9: changeover I-0-II 63 A 2P by hand\n  -Q1: {device"),
      "chains:",
      "assemblies:\n  +A9: {busbars: {-WB9: 63 A}}\nchains:\n  - [A1, -W9 3×6 mm² 3 m, -Q9:I]\n  - "
      "[A2, -W8 3×6 mm² 3 m, -Q9:II]\n  - [-Q9, -WB9]"));
  CHECK(sound(all));
}

TEST_CASE("bond follows the contactor: an inverter with both contacts inside is one function") {
  const auto all = judged(R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
inverters:
  -T1: {kind: hybrid, backup side: yes, neutral in island: opened, bond: closes in island, bond rest: open}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 5 m]}
  +A2: {feed: [-T1:backup, -W3 3×6 mm² 3 m]}
chains:
  - [A1, -W2 3×6 mm² 3 m, -T1:ac]
states:
  grid: {}
  island: {running: [-T1]}
)");
  CHECK(sound(all));
}

TEST_CASE(
    "bond follows the contactor: an inverter that bonds behind an unnamed contactor is open") {
  const auto all = judged(with(with(with(contactor,
                                         "  links:\n    -X5: {at: A2, contact: yes, rest: "
                                         "open, closed in: [island], proved by: [-Q1]}\n",
                                         ""),
                                    "bond: none", "bond: closes in island, bond rest: open"),
                               ", synchronises at: [-Q1]", ""));
  REQUIRE(open_ones(all).size() == 1);
  CHECK(open_ones(all).front().missing == "'synchronises at' of '-T1'");
}

TEST_CASE("bond follows the contactor: fixed links are not its subject") {
  CHECK(judged(with(contactor,
                    "{at: A2, contact: yes, rest: open, closed in: [island], proved by: [-Q1]}",
                    "{at: A2}"))
            .empty());
}

}  // namespace
}  // namespace linewright::tests
