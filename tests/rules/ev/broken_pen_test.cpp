#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule broken_pen;
}

namespace linewright::tests {
namespace {

std::vector<Verdict> judged(std::string_view yaml, std::string_view profile = {}) {
  return verdicts(rules::broken_pen, yaml, profile);
}

constexpr std::string_view drive = R"(
profile: GB
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-C-S}
boards:
  +A1:
    feed: [supply, -W1 2×25 mm² + 16 mm² PE 3 m, -Q1 switch-disconnector 63 A 2P]
    circuits:
      - {id: -F1, name: Car, device: C40 2P 30 mA type B 6 kA, cable: 3×6 mm² 20 m, use: EV, outdoors: yes, pen detection: opens live and earth}
states:
  grid: {}
)";

TEST_CASE("broken PEN: a charge point that opens live and earth holds, and its limits are asked") {
  const auto all = judged(drive);
  CHECK(sound(all));
  REQUIRE(questions_of(all).size() == 1);
  CHECK(questions_of(all).front().expected == "above 70 V, within 5 s");
}

TEST_CASE("broken PEN: no measure is found") {
  const auto all = judged(rules::broken_pen.example);
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().message ==
        "'Car' is outdoors on a PEN with no measure against its loss");
}

TEST_CASE("broken PEN: opening the live conductors alone leaves the car on that earth") {
  CHECK(broken_ones(judged(with(drive, "opens live and earth", "opens live"))).size() == 1);
}

TEST_CASE("broken PEN: a touch voltage of 70 V holds, 71 V is found") {
  const auto kept = with(drive, "pen detection: opens live and earth",
                         "pen detection: none, charging: {touch voltage: 70 V}");
  CHECK(sound(judged(kept)));
  const auto all = judged(with(kept, "70 V", "71 V"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().message ==
        "touch voltage of 'Car' at a broken PEN is 71 V, must be 70 V or less");
}

TEST_CASE("broken PEN: an electrode of its own holds only without the PE core") {
  const auto rod = with(drive, "pen detection: opens live and earth", "own electrode: 60 ohm");
  REQUIRE(broken_ones(judged(rod)).size() == 1);
  CHECK(broken_ones(judged(rod)).front().message ==
        "'Car' has an electrode, but its PE core still leads to the PEN");
  CHECK(sound(judged(with(rod, "cable: 3×6 mm²", "cable: 2×6 mm²"))));
}

TEST_CASE("broken PEN: what the charge point does, and whether it is outdoors, may be open") {
  CHECK(
      open_ones(judged(with(drive, ", pen detection: opens live and earth", ""))).front().missing ==
      "'pen detection' or 'own electrode' of 'Car'");
  CHECK(open_ones(judged(with(drive, "outdoors: yes, ", ""))).front().missing ==
        "'outdoors' of 'Car'");
}

TEST_CASE("broken PEN: indoors, on TN-S, on a supply whose earth is not used, nothing is asked") {
  const auto none = with(drive, "opens live and earth", "none");
  CHECK(silent(judged(with(none, "outdoors: yes", "outdoors: no"))));
  CHECK(silent(judged(with(none, "TN-C-S", "TN-S"))));
  CHECK(sound(judged(
      with(none, "boards:",
           "earthing: {electrodes: {-XE1: 20 ohm}, supplier earth: disconnected}\nboards:"))));
}

TEST_CASE("broken PEN: only where the country asks for a measure") {
  CHECK(silent(judged(with(drive, "opens live and earth", "none"), "DE")));
}

TEST_CASE("broken PEN: a PEN in the charge point's own circuit is found in every country") {
  const auto pen = with(with(drive, "2×25 mm² + 16 mm² PE 3 m", "2×25 mm² (L1 PEN) 3 m"),
                        "cable: 3×6 mm²", "cable: 2×6 mm² (L1 PEN)");
  const auto split = with(with(pen, "earthing: TN-C-S", "earthing: TN-C-S, pen split: -X4"),
                          "states:", "  +A9: {feed: [A1, -X4 PEN split]}\nstates:");
  CHECK(says(judged(split, "DE"), Outcome::broken, "-E1"));
}

}  // namespace
}  // namespace linewright::tests
