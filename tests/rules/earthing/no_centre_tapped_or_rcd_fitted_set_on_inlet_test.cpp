#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule no_centre_tapped_or_rcd_fitted_set_on_inlet;
}

namespace linewright::tests {
namespace {

std::vector<Verdict> judged(std::string_view yaml) {
  return verdicts(rules::no_centre_tapped_or_rcd_fitted_set_on_inlet, yaml);
}

constexpr std::string_view sound_site = R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
generators:
  -G1: {neutral: linked, winding: line-neutral, fixed: no, own rcd: no}
panel:
  id: +A2
  interior: generator inlet
  grid: [A1, -W2 3×10 mm² 5 m]
  generator: [-G1, -W3 3×6 mm² 5 m]
  inlet: 32 A
  changeover: 63 A 2P by hand
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m]}
)";

constexpr std::string_view bonded_behind = R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}, links: {-X5: {at: A3}}}
generators:
  -G1: {neutral: floating, winding: line-neutral, fixed: no, own rcd: yes}
boards:
  +A3: {feed: [-G1, -W3 3×6 mm² 5 m, -X1 inlet 32 A]}
states:
  generator: {running: [-G1]}
)";

TEST_CASE("plugged set: a winding from line to neutral without RCD is sound") {
  CHECK(sound(judged(sound_site)));
}

TEST_CASE("plugged set: a centre-tapped winding is broken, an unknown one open") {
  const auto all = judged(with(sound_site, "line-neutral", "centre-tapped"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().element == "-G1");
  CHECK(open_ones(judged(with(sound_site, "winding: line-neutral, ", ""))).size() == 1);
}

TEST_CASE("plugged set: an RCD of its own is broken where the bond lies behind it") {
  CHECK(says(judged(bonded_behind), Outcome::broken, "-G1", "generator"));
  CHECK(sound(judged(with(bonded_behind, "own rcd: yes", "own rcd: no"))));
  CHECK(open_ones(judged(with(bonded_behind, ", own rcd: yes", ""))).size() == 1);
}

TEST_CASE("plugged set: an RCD of its own with the link inside the set is sound") {
  CHECK(sound(judged(with(sound_site, "own rcd: no", "own rcd: yes"))));
}

TEST_CASE("plugged set: a fixed set is not asked") {
  CHECK(silent(judged(R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
generators:
  -G1: {neutral: linked, winding: centre-tapped, fixed: yes}
boards:
  +A3: {feed: [-G1, -W3 3×6 mm² 5 m]}
states:
  generator: {running: [-G1]}
)")));
}

}  // namespace
}  // namespace linewright::tests
