#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule priority_and_return;
}

namespace linewright::tests {
namespace {

const check::Rule& rule = rules::priority_and_return;

std::string sound_site() {
  return with(rule.example, "picks up: 200 V", "picks up: 210 V");
}

TEST_CASE("priority and return: order, limits and delay that are given and agree hold") {
  CHECK(sound(verdicts(rule, sound_site())));
}

TEST_CASE("priority and return: taking a source at the voltage at which it is left hunts") {
  const auto broken = broken_ones(verdicts(rule, rule.example));
  REQUIRE(broken.size() == 1);
  CHECK(broken[0].element == "-Q1");
  CHECK(sound(verdicts(rule, with(rule.example, "picks up: 200 V", "picks up: 201 V"))));
}

TEST_CASE("priority and return: three minutes after a generator run are the border") {
  CHECK(sound(verdicts(rule, with(sound_site(), "5 min", "180 s"))));
  CHECK(broken_ones(verdicts(rule, with(sound_site(), "5 min", "179 s"))).size() == 1);
}

TEST_CASE("priority and return: a source without a place, or with two, is told") {
  const auto out = broken_ones(verdicts(rule, with(sound_site(), "[supply, -G2]", "[supply]")));
  REQUIRE(out.size() == 1);
  CHECK(out[0].message == "'-Q1' has no place for '-G2' in its priority");
  CHECK(broken_ones(verdicts(rule, with(sound_site(), "[supply, -G2]", "[-G2, supply, -G2]")))
            .size() == 1);
}

TEST_CASE("priority and return: what is not said is asked by its key") {
  const auto none = open_ones(verdicts(
      rule, with(sound_site(),
                 "    automatic: {priority: [supply, -G2], drops out: 200 V, picks up: 210 V, "
                 "returns after: 5 min}\n",
                 "")));
  REQUIRE(none.size() == 1);
  CHECK(none[0].missing == "'automatic' of '-Q1'");
  const auto all = verdicts(
      rule, with(with(sound_site(), ", returns after: 5 min", ""), ", cool down: 120 s", ""));
  REQUIRE(open_ones(all).size() == 2);
  CHECK(open_ones(all)[0].missing == "'returns after' under 'automatic' of '-Q1'");
  CHECK(open_ones(all)[1].missing == "'cool down' of '-G2'");
}

TEST_CASE("priority and return: a changeover moved by hand chooses nothing by itself") {
  CHECK(silent(verdicts(rule, with(rule.example, "operated: controller", "operated: hand"))));
}

TEST_CASE("priority and return: a contactor that only drops loads is no transfer") {
  CHECK(silent(verdicts(rule, R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m]}
  +A2: {feed: [A1, -Q1 contactor 40 A 2P]}
states:
  grid: {-Q1: closed}
)")));
}

}  // namespace
}  // namespace linewright::tests
