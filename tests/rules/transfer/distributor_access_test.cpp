#include "support/judge.hpp"

namespace linewright::rules {
extern const check::Rule distributor_access;
}

namespace linewright::tests {
namespace {

const check::Rule& rule = rules::distributor_access;

TEST_CASE(
    "distributor access: a lockable isolator at the origin holds, and the way to it is asked") {
  const auto all = verdicts(rule, with(rule.example, "lockable: no", "lockable: yes"));
  CHECK(sound(all));
  CHECK(questions_of(all).size() == 1);
}

TEST_CASE("distributor access: none at the origin is a breach, though each source has its own") {
  const auto broken = broken_ones(verdicts(rule, rule.example));
  REQUIRE(broken.size() == 1);
  CHECK(broken[0].message == "no one lockable isolator parts '-T1' and '-T2' from the supply");
}

TEST_CASE("distributor access: whether the main switch locks is asked where it is not said") {
  const auto open = open_ones(verdicts(rule, with(rule.example, ", lockable: no", "")));
  REQUIRE(open.size() == 1);
}

TEST_CASE(
    "distributor access: a certificate serves where the country accepts it, up to its power") {
  const std::string certified =
      with(with(rule.example, "power: 3.6 kVA", "power: 29 kVA, protection: {certificate: TC-1}"),
           "power: 1 kVA", "power: 1 kVA, protection: {certificate: TC-2}");
  CHECK(sound(verdicts(rule, certified, "DE")));
  CHECK(broken_ones(verdicts(rule, certified)).size() == 1);
  CHECK(broken_ones(verdicts(rule, with(certified, "29 kVA", "29.1 kVA"), "DE")).size() == 1);
}

TEST_CASE("distributor access: the isolator of a single source parts all sources there are") {
  const std::string one = with(
      with(rule.example, "  -T2: {kind: pv, power: 1 kVA}\n", ""),
      "  - [-T2:ac, -W3 3×2.5 mm² 9 m, -Q3 switch-disconnector 25 A 2P isolating lockable, A1]\n",
      "");
  CHECK(sound(verdicts(rule, one)));
}

TEST_CASE("distributor access: a site without sources in parallel is not asked") {
  CHECK(silent(verdicts(rule,
                        "supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}\nprofile: GB\n"
                        "boards: {+A1: {feed: [supply, -W1 3×16 mm² 3 m]}}\n")));
}

}  // namespace
}  // namespace linewright::tests
