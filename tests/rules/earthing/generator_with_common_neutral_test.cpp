#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule generator_with_common_neutral;
}

namespace linewright::tests {
namespace {

std::vector<Verdict> judged(std::string_view yaml, std::string_view profile = {}) {
  return verdicts(rules::generator_with_common_neutral, yaml, profile);
}

constexpr std::string_view floating = R"(
profile: AU
supply: {system: 3/N/PE 230/400 V 50 Hz, earthing: TN-C-S, pen split: A1}
earthing: {electrodes: {-XE1: 20 ohm}}
generators:
  -G2: {neutral: floating, fixed: yes, own rcd: no}
devices:
  -Q1: changeover I-0-II 63 A 3P by hand
  -Q5: switch-disconnector 63 A 4P normally open
boards:
  +A1: {feed: [supply, -W1 4×16 mm² 5 m]}
  +A2: {feed: [-Q1]}
chains:
  - [A1, -W2 5×16 mm² 5 m, -Q1:I]
  - [-G2, -W3 5×10 mm² 20 m, -Q5, -Q1:II]
states:
  grid: {-Q1: I}
  generator: {-Q1: II, -Q5: closed}
)";

TEST_CASE("common neutral: a floating generator on the main neutral holds") {
  const auto all = judged(floating);
  CHECK(sound(all));
  CHECK(states_with(all, Outcome::holds) == "generator");
}

TEST_CASE("common neutral: off, the set must leave the main neutral where the country says so") {
  const auto site = with(floating, "63 A 4P normally open", "63 A 3P normally open");
  const auto all = judged(site);
  CHECK(states_with(all, Outcome::broken) == "grid");
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().severity == Severity::breach);
  CHECK(sound(judged(site, "international")));
}

TEST_CASE("common neutral: a factory link is found at the generator where the neutral is common") {
  const auto all = judged(rules::generator_with_common_neutral.example);
  CHECK(states_with(all, Outcome::broken) == "generator");
  for (const Verdict& found : broken_ones(all))
    CHECK(found.element == "-G2");
}

TEST_CASE("common neutral: a link put beside the set is found as well as one inside it") {
  CHECK(says(judged(with(floating, "{-XE1: 20 ohm}}", "{-XE1: 20 ohm}, links: {-X6: {at: -G2}}}")),
             Outcome::broken, "-X6", "generator"));
}

TEST_CASE("common neutral: a set that does not say whether it is linked is open") {
  const auto all = judged(with(floating, "neutral: floating, ", ""));
  CHECK(broken_ones(all).empty());
  CHECK(says(all, Outcome::open, "-G2", "generator"));
}

TEST_CASE("common neutral: where the country switches the neutral the pole is at fault instead") {
  CHECK(broken_ones(judged(rules::generator_with_common_neutral.example, "GB")).empty());
}

TEST_CASE("common neutral: a frame that is not on the main earthing terminal is found") {
  const auto all = judged(with(floating, "-W3 5×10 mm² 20 m", "-W3 4×10 mm² (L1 L2 L3 N) 20 m"));
  CHECK(says(all, Outcome::broken, "-G2", "generator"));
}

TEST_CASE("common neutral: a generator whose neutral is switched is not its subject") {
  CHECK(
      judged(with(with(floating, "63 A 3P by hand", "63 A 4P by hand"), "floating", "linked"), "GB")
          .empty());
}

}  // namespace
}  // namespace linewright::tests
