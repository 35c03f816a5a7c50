#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule bypass_still_has_overcurrent_protection;
}

namespace linewright::tests {
namespace {

const check::Rule& rule = rules::bypass_still_has_overcurrent_protection;

std::string with_device(std::string_view device) {
  return with(rule.example, "[A1, -W5", "[A1, " + std::string(device) + ", -W5");
}

TEST_CASE("bypass overcurrent: a device for the cable's size where it begins holds") {
  CHECK(sound(verdicts(rule, with_device("-F5 C32 2P"))));
}

TEST_CASE("bypass overcurrent: behind the supply's fuse alone the thin cable is a danger") {
  const auto broken = broken_ones(verdicts(rule, rule.example));
  REQUIRE(broken.size() == 1);
  CHECK(broken[0].element == "-W5");
  CHECK(broken[0].message == "'-W5' carries 32 A, '-F0' of 63 A lets more through");
}

TEST_CASE("bypass overcurrent: what it carries is the border") {
  CHECK(broken_ones(verdicts(rule, with_device("-F5 C40 2P"))).size() == 1);
  CHECK(sound(verdicts(rule, with(with_device("-F5 C40 2P"), "carries 32 A", "carries 40 A"))));
}

TEST_CASE("bypass overcurrent: three metres with double insulation may do without") {
  const std::string tap = with(rule.example, "8 m carries", "3 m double insulated carries");
  CHECK(sound(verdicts(rule, tap)));
  CHECK(broken_ones(verdicts(rule, with(tap, "3 m double", "3.1 m double"))).size() == 1);
}

TEST_CASE("bypass overcurrent: what the cable carries is asked where it is not said") {
  const auto open = open_ones(verdicts(rule, with(rule.example, " carries 32 A", "")));
  REQUIRE(open.size() == 1);
  CHECK(open[0].missing == "'carries' of '-W5', in amperes as it is laid");
}

TEST_CASE("bypass overcurrent: the supply's fuse is asked for, from a set nothing protects it") {
  CHECK(open_ones(verdicts(rule, with(rule.example, ", fuse: 63 A gG", ""))).size() == 1);
  const std::string set = with(
      with(with(rule.example, "supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S, fuse: 63 A gG}",
                "generators:\n  -G2: {power: 15 kVA, neutral: linked, fixed: yes}"),
           "[supply, -W1", "[-G2, -W1"),
      "running: [supply]", "running: [-G2]");
  CHECK(broken_ones(verdicts(rule, set)).size() == 1);
}

TEST_CASE("bypass overcurrent: a joint inside the panel behind a breaker holds") {
  CHECK(sound(verdicts(rule, with(rule.example, "[A1, -W5 3×4 mm² 8 m carries 32 A, -Q2:II]",
                                  "[A1, -F5 C63 2P, -Q2:II]"))));
}

TEST_CASE("bypass overcurrent: a site without bypass is not asked") {
  CHECK(silent(verdicts(rule,
                        "supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}\n"
                        "boards: {+A1: {feed: [supply, -W1 3×16 mm² 3 m]}}\n")));
}

}  // namespace
}  // namespace linewright::tests
