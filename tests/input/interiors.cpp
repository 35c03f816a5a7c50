// The ready-made interiors of a panel: each prints an explicit form that reads back to the same
// site.
#include <string>
#include <string_view>

#include <catch2/catch.hpp>

#include "input/read.hpp"
#include "support/site_from.hpp"

using namespace linewright;

namespace {

constexpr std::string_view ground = R"(supply: {system: 3/N/PE 230/400 V 50 Hz, earthing: TN-S}
generators: {-G2: {power: 15 kVA}}
inverters:
  -T1: {kind: hybrid, backup side: yes, battery: {energy: 10 kWh}, pv: [{strings: 1}, {strings: 2}]}
  -T2: {kind: hybrid, backup side: yes}
boards:
  +A1: {feed: [supply, 5×16 mm², -Q1 switch 63 A 4P]}
  +A4: {feed: [A2, 5×10 mm²], circuits: [{name: Lights, device: B10 1P+N, cable: 3×1.5 mm²}]}
panel:
  id: +A2
  grid: [A1, 5×10 mm² Cu 9 m]
)";

std::string panel(std::string_view more) {
  return std::string(ground) + std::string(more);
}

void check_round_trip(const std::string& text) {
  const Result<std::string> expanded = input::show_expanded(text);
  REQUIRE(expanded.has_value());
  INFO(*expanded);
  CHECK(tests::mistakes_in(*expanded) == "");
  CHECK(expanded->find("panel:") == std::string::npos);
  CHECK(tests::summary(tests::site_from(*expanded)) == tests::summary(tests::site_from(text)));
}

constexpr std::string_view inverters =
    "  inverters: {-T1: {in: [C20 4P, 5×6 mm²], out: [5×6 mm²]}, -T2: {in: [], out: []}}\n";

}  // namespace

TEST_CASE("interiors: two sources with bypass") {
  const std::string text = panel(
      "  interior: two sources with bypass\n"
      "  generator: [-G2, 5×6 mm²]\n" +
      std::string(inverters));
  check_round_trip(text);
  const site::Site site = tests::site_from(text);
  // -Q1 is the main board's, so that the panel's own switches take the next numbers.
  for (const std::string_view name : {"-Q2", "-Q3", "-WB1", "-WB2", "-WB3"})
    CHECK(site.find(name) != site::none);
  CHECK(site.states.size() == 5);
  CHECK(site.assemblies.front().interior == "two sources with bypass");
}

TEST_CASE("interiors: one source with bypass") {
  const std::string text = panel(
      "  interior: one source with bypass\n  changeover: 63 A\n  bypass: {id: -Q9, operated: hand, "
      "device: 40 A}\n" +
      std::string(inverters));
  check_round_trip(text);
  const site::Site site = tests::site_from(text);
  const auto* main = site::facts<site::Device>(site.elements[site.find("-Q2")]);
  REQUIRE(main != nullptr);
  CHECK(main->kind == site::DeviceKind::switch_disconnector);
  CHECK(main->rated_current == 63.0 * unit::ampere);
  CHECK(main->poles.value_or(site::Poles{}).written == "4P");
  CHECK(site.states.size() == 4);
  const auto* bypass = site::facts<site::Device>(site.elements[site.find("-Q9")]);
  REQUIRE(bypass != nullptr);
  CHECK(bypass->kind == site::DeviceKind::changeover);
  CHECK(bypass->rated_current == 40.0 * unit::ampere);
  CHECK(bypass->operation == site::Operation::hand);
}

TEST_CASE("interiors: manual changeover, onto a generator and onto an inverter") {
  check_round_trip(panel("  interior: manual changeover\n  generator: [-G2, 5×6 mm²]\n"));
  const std::string text =
      panel("  interior: manual changeover\n  inverter: [-T1:backup, 5×6 mm²]\n");
  check_round_trip(text);
  const site::Site site = tests::site_from(text);
  REQUIRE(site.states.size() == 3);
  CHECK(site.states[1].name == "island");
}

TEST_CASE("interiors: generator inlet, where the generator's own cable ends") {
  const std::string text =
      panel("  interior: generator inlet\n  inlet: 32 A\n  generator: [-G2, 5×6 mm², C25 4P]\n");
  check_round_trip(text);
  const site::Site site = tests::site_from(text);
  const std::size_t inlet = site.find("-X1");
  REQUIRE(inlet != site::none);
  const auto* facts = site::facts<site::Connector>(site.elements[inlet]);
  REQUIRE(facts != nullptr);
  CHECK(facts->inlet);
  CHECK(facts->rated_current == 32.0 * unit::ampere);
  CHECK(site.elements[inlet].assembly == 0);
}

TEST_CASE("interiors: the user's states replace the ready-made ones of the same name") {
  const std::string text = panel(
      "  interior: manual changeover\n  generator: [-G2, 5×6 mm²]\n"
      "  changeover: -Q7 63 A 4P\n"
      "states: {off: {-Q7: 0, -Q1: open}, works: {-Q7: 0}}\n");
  check_round_trip(text);
  const site::Site site = tests::site_from(text);
  REQUIRE(site.states.size() == 4);
  CHECK(site.states[2].name == "off");
  CHECK(site.states[2].positions.size() == 2);
  CHECK(site.states[3].name == "works");
}

TEST_CASE("interiors: what an interior does not read is a mistake, and so is what it needs") {
  CHECK(tests::mistakes_in(panel("  interior: generator inlet\n  bypass: 63 A\n")) ==
        "10:3+1 this interior needs 'generator' | add 'generator: [source, cable, device]'\n"
        "13:11+4 this interior has no 'bypass' | delete it or choose another interior\n");
  CHECK(tests::mistakes_in(panel("  interior: two source with bypass\n")) ==
        "8:16+2 there is no place 'A2' | did you mean 'A1', 'A4' or 'G2'?\n"
        "12:13+22 'two source with bypass' is not a word for this key | did you mean 'two sources "
        "with bypass'?\n");
}
