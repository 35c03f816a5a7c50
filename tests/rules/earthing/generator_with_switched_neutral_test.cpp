#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule generator_with_switched_neutral;
}

namespace linewright::tests {
namespace {

std::vector<Verdict> judged(std::string_view yaml, std::string_view profile = {}) {
  return verdicts(rules::generator_with_switched_neutral, yaml, profile);
}

constexpr std::string_view changeover = R"(
supply: {system: 3/N/PE 230/400 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
generators:
  -G2: {neutral: linked, fixed: yes, own rcd: no}
devices:
  -Q1: changeover I-0-II 63 A 4P by hand
boards:
  +A1: {feed: [-Q1]}
chains:
  - [supply, -W1 5×16 mm² 5 m, -Q1:I]
  - [-G2, -W2 5×10 mm² 20 m, -Q1:II]
states:
  grid: {-Q1: I}
  generator: {-Q1: II}
)";

TEST_CASE("switched neutral: a generator with its own link behind four poles holds") {
  const auto all = judged(changeover);
  CHECK(sound(all));
  CHECK(states_with(all, Outcome::holds) == "generator");
}

TEST_CASE("switched neutral: a floating one is found, on the generator alone") {
  const auto all = judged(rules::generator_with_switched_neutral.example);
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().element == "-G2");
  CHECK(broken_ones(all).front().message ==
        "the generator's neutral has no joint to earth, must be 1");
}

TEST_CASE("switched neutral: a link beside a floating set does as well as one inside it") {
  CHECK(sound(judged(with(rules::generator_with_switched_neutral.example, "{-XE1: 20 ohm}}",
                          "{-XE1: 20 ohm}, links: {-X6: {at: -G2}}}"))));
}

TEST_CASE(
    "switched neutral: a link behind the transfer is a breach, for ahead of it nothing is bonded") {
  const auto all = judged(with(rules::generator_with_switched_neutral.example, "{-XE1: 20 ohm}}",
                               "{-XE1: 20 ohm}, links: {-X6: {at: A1, contact: yes, rest: open, "
                               "closed in: [generator]}}}"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().element == "-X6");
  CHECK(broken_ones(all).front().severity == Severity::breach);
}

TEST_CASE("switched neutral: a set that does not say whether it is linked is open") {
  const auto all = judged(with(changeover, "neutral: linked, ", ""));
  REQUIRE(open_ones(all).size() == 1);
  CHECK(open_ones(all).front().missing == "'neutral' or position of '-G2'");
}

TEST_CASE("switched neutral: a frame that is not on the main earthing terminal is found") {
  const auto all = judged(with(changeover, "-W2 5×10 mm² 20 m", "-W2 4×10 mm² (L1 L2 L3 N) 20 m"));
  REQUIRE(broken_ones(all).size() == 1);
  CHECK(broken_ones(all).front().message ==
        "the generator's frame is not on the main earthing terminal");
}

TEST_CASE("switched neutral: a floating set for one double insulated item is not asked") {
  const std::string_view site = R"(
generators:
  -G1: {system: 1/N/PE 230 V 50 Hz, neutral: floating, fixed: no, own rcd: no}
boards:
  +A1:
    feed: [-G1, -W1 2×2.5 mm² 5 m]
    circuits:
      - {id: -F1, device: B10 2P, cable: 2×1.5 mm² 5 m, use: separated, items: 1, class two: yes}
states:
  generator: {running: [-G1]}
)";
  CHECK(silent(judged(site)));
  // How many items it may serve is another rule's question.
  CHECK(silent(judged(with(site, ", items: 1", ""))));
  CHECK(silent(judged(with(site, "items: 1", "items: 2"))));
  const auto sockets = with(site, "use: separated", "use: sockets");
  CHECK(says(judged(sockets), Outcome::broken, "-G1"));
  CHECK(says(judged(sockets, "AU"), Outcome::broken, "-G1"));
}

TEST_CASE("switched neutral: on a common neutral it leaves the word to the other rule") {
  CHECK(silent(judged(with(rules::generator_with_switched_neutral.example, "63 A 4P", "63 A 3P"))));
}

}  // namespace
}  // namespace linewright::tests
