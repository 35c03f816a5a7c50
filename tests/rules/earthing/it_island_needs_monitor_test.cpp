#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule it_island_needs_monitor;
}

namespace linewright::tests {
namespace {

std::vector<Verdict> judged(std::string_view yaml, std::string_view profile = {}) {
  return verdicts(rules::it_island_needs_monitor, yaml, profile);
}

constexpr std::string_view island = R"(
earthing: {electrodes: {-XE1: 20 ohm}}
generators:
  -G1: {system: 1/N/PE 230 V 50 Hz, neutral: floating, winding: line-neutral, fixed: yes, own rcd: no, unearthed on purpose: yes,
        insulation monitor: with alarm, first fault current: 30 mA}
boards:
  +A1:
    feed: [-G1, -W1 3×6 mm² 5 m]
    circuits:
      - {id: -F1, name: Pump, device: B16 2P 30 mA type A, cable: 3×2.5 mm² 20 m, use: fixed}
states:
  generator: {running: [-G1]}
)";

TEST_CASE("IT island: watched with alarm, on a low earth, it holds and asks what only tests show") {
  const auto all = judged(island);
  CHECK(sound(all));
  CHECK(questions_of(all).size() == 3);
  CHECK(rules_broken(report_on(island)).empty());
}

TEST_CASE("IT island: nothing that watches is found") {
  const auto all = judged(rules::it_island_needs_monitor.example);
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().message == "nothing watches the insulation of what '-G1' feeds");
}

TEST_CASE("IT island: a monitor without alarm is as good as none") {
  CHECK(says(judged(with(island, "with alarm", "without alarm")), Outcome::broken, "-G1",
             "generator"));
}

TEST_CASE("IT island: a first fault may lift the earth by 50 V and no more") {
  // 20 Ω × 2.5 A = 50 V; 20 Ω × 2.6 A = 52 V.
  CHECK(sound(judged(with(island, "first fault current: 30 mA", "first fault current: 2.5 A"))));
  const auto all = judged(with(island, "first fault current: 30 mA", "first fault current: 2.6 A"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().message ==
        "a first fault lifts the earth by 52 V, must be 50 V or less");
}

TEST_CASE("IT island: monitor, fault current and electrode that are not given are open, each") {
  CHECK(open_ones(judged(with(island, "insulation monitor: with alarm, ", ""))).front().missing ==
        "'insulation monitor' of '-G1'");
  CHECK(open_ones(judged(with(island, ", first fault current: 30 mA", ""))).front().missing ==
        "'first fault current' of '-G1'");
  CHECK(open_ones(judged(with(island, "{-XE1: 20 ohm}", "{-XE1: }"))).front().missing ==
        "an electrode with its resistance (earthing: electrodes)");
}

TEST_CASE("IT island: a circuit that keeps its neutral when its device opens is found") {
  const auto all = judged(with(island, "B16 2P", "B16 1P"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().message == "the neutral of 'Pump' is not opened with the lines");
}

TEST_CASE("IT island: a source that is not meant to be unearthed is left to the rules on joints") {
  const auto site = with(island, "unearthed on purpose: yes", "unearthed on purpose: no");
  CHECK(silent(judged(site)));
  CHECK(rules_broken(report_on(site)) == "earthing/generator-with-switched-neutral");
}

TEST_CASE("IT island: an IT supply is asked for its monitor, and is none where there is no such") {
  const std::string_view supplied = R"(
supply: {system: 3/N/PE 230/400 V 50 Hz, earthing: IT, insulation monitor: with alarm, first fault current: 1 A}
earthing: {electrodes: {-XE1: 20 ohm}}
boards:
  +A1: {feed: [supply, -W1 5×6 mm² 5 m]}
states:
  grid: {}
)";
  CHECK(sound(judged(supplied)));
  CHECK(open_ones(judged(with(supplied, "insulation monitor: with alarm, ", ""))).size() == 1);
  CHECK(broken_ones(judged(supplied, "GB")).size() == 1);
}

TEST_CASE("IT island: a joint beside a source that is meant to have none makes it TN") {
  CHECK(silent(judged(with(island, "{-XE1: 20 ohm}}", "{-XE1: 20 ohm}, links: {-X5: {at: A1}}}"))));
}

}  // namespace
}  // namespace linewright::tests
