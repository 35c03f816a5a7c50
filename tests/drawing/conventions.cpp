// The symbols that a single-line diagram of this trade needs, numbered as on the project's
// reference page on drawing conventions (its section 6), each with the meaning that the page gives
// it.
#include <set>

#include <catch2/catch.hpp>

#include "diagram/wording.hpp"
#include "drawing/metrics.hpp"
#include "drawing/symbol_table.hpp"

namespace {

using namespace linewright;
using namespace linewright::drawing;

struct Wanted {
  std::string_view id;
  std::string_view name;
  std::string_view title;
};

constexpr Wanted conventions[] = {
    {"C01", "junction", "junction"},
    {"C02", "t-connection", "T-connection"},
    {"C03", "crossing", "crossing"},
    {"C04", "conductors-3", "three conductors"},
    {"C05", "neutral-mark", "neutral conductor"},
    {"C06", "protective-mark", "protective conductor"},
    {"C07", "pen-mark", "PEN conductor"},
    {"C08", "terminal", "terminal"},
    {"C09", "busbar", "busbar"},
    {"C10", "screened-cable", "screened cable"},
    {"C11", "direct-current", "direct current"},
    {"C12", "alternating-current", "alternating current"},
    {"C13", "assembly-boundary", "assembly"},
    {"C14", "sheet-reference", "continues elsewhere"},
    {"E01", "earth-electrode", "earth electrode"},
    {"E02", "protective-earth", "protective earth"},
    {"E03", "functional-earth", "functional earth"},
    {"E04", "chassis", "frame, chassis"},
    {"E05", "equipotential-bonding", "equipotential bonding"},
    {"E06", "main-earthing-terminal", "main earthing terminal"},
    {"E07", "neutral-earth-link", "neutral-earth link"},
    {"E08", "neutral-earth-contact", "neutral-earth contact"},
    {"S01", "make-contact", "switch"},
    {"S02", "break-contact", "break contact"},
    {"S03", "changeover-without-off", "changeover switch, two positions"},
    {"S04", "changeover", "changeover switch I-0-II"},
    {"S05", "disconnector", "disconnector"},
    {"S06", "switch-disconnector", "switch-disconnector"},
    {"S07", "circuit-breaker", "circuit-breaker"},
    {"S08", "circuit-breaker-isolating", "circuit-breaker, isolating"},
    {"S09", "contactor", "contactor"},
    {"S10", "contactor-break", "contactor, break contact"},
    {"S11", "coil", "coil"},
    {"S12", "make-contact-delayed", "switch, delayed closing"},
    {"S13", "hand-operated-switch", "switch, operated by hand"},
    {"S14", "emergency-stop", "emergency switching-off"},
    {"S15", "fuse", "fuse"},
    {"S16", "fuse-switch-disconnector", "fuse-switch-disconnector"},
    {"S17", "fuse-disconnector", "fuse-disconnector"},
    {"S18", "interlock", "mechanical interlock"},
    {"S19", "transfer-pair", "interlocked pair of switch-disconnectors"},
    {"S20", "manual-transfer-switch", "transfer switch I-0-II, by hand"},
    {"P01", "overcurrent-actuation", "overcurrent release"},
    {"P02", "residual-current-actuation", "residual-current release"},
    {"P03", "under-voltage-actuation", "under-voltage release"},
    {"P04", "thermal-actuation", "thermal release"},
    {"P05", "electromagnetic-actuation", "electromagnetic release"},
    {"P06", "rcd", "residual-current device"},
    {"P07", "rcbo", "circuit-breaker with RCD"},
    {"P08", "spd-varistor", "surge protective device, varistor"},
    {"P09", "spd-spark-gap", "surge protective device, spark gap"},
    {"P10", "spd", "surge protective device"},
    {"G01", "generator-three-phase", "generator, three-phase"},
    {"G02", "motor-three-phase", "motor, three-phase"},
    {"G03", "photovoltaic-generator", "photovoltaic generator"},
    {"G04", "pv", "PV generator"},
    {"G05", "battery-cell", "battery cell"},
    {"G06", "battery-stack", "battery"},
    {"G07", "inverter", "inverter"},
    {"G08", "battery-inverter", "battery inverter"},
    {"G09", "dc-converter", "DC/DC converter"},
    {"G10", "hybrid-inverter-backup", "hybrid inverter with backup outlet"},
    {"G11", "transformer", "transformer"},
    {"M01", "meter", "energy meter"},
    {"M02", "meter-two-way", "energy meter, two-way"},
    {"M03", "current-transformer", "current transformer"},
    {"M04", "lamp", "signal lamp"},
    {"X01", "socket-without-earth", "socket-outlet, no protective contact"},
    {"X02", "socket", "socket-outlet"},
    {"X03", "inlet", "inlet"},
    {"X04", "heating-element", "heating element"},
    {"X05", "load-group", "load group"},
    {"X06", "load", "outgoing circuit"},
    {"X07", "ev-charge-point", "charge point"},
    {"X08", "heat-pump", "heat pump"},
    {"X09", "controller", "controller"},
};

}  // namespace

TEST_CASE("symbols: every symbol of the drawing conventions is there under its title") {
  const SymbolLibrary library = built_in_symbols();
  std::set<std::string_view> names;
  for (const Wanted& wanted : conventions) {
    INFO(wanted.id << " " << wanted.name);
    const auto found = library.find(wanted.name);
    REQUIRE(found != library.end());
    CHECK(found->second.title == wanted.title);
    CHECK(found->second.description.ends_with('.'));
    CHECK(names.insert(wanted.name).second);
  }
  CHECK(names.size() == 14 + 8 + 20 + 10 + 11 + 4 + 9);  // C, E, S, P, G, M, X
}

TEST_CASE("symbols: only variants that are drawn the other way round share a title") {
  std::map<std::string, std::string> first;
  for (const auto& [name, symbol] : built_in_symbols()) {
    INFO(name << " and " << first[symbol.title]);
    CHECK((first[symbol.title].empty() || name.ends_with("-swapped")));
    first[symbol.title] = name;
  }
}

TEST_CASE("symbols: no mark of a symbol reaches beyond the canvas of its file") {
  for (const auto& [name, symbol] : built_in_symbols()) {
    INFO(name);
    const diagram::Rect ink = ink_bounds(symbol);
    CHECK(ink.x >= symbol.canvas.x);
    CHECK(ink.y >= symbol.canvas.y);
    CHECK(ink.x + ink.width <= symbol.canvas.x + symbol.canvas.width);
    CHECK(ink.y + ink.height <= symbol.canvas.y + symbol.canvas.height);
  }
}

TEST_CASE("symbols: a surge protective device is drawn as its form says, if that is clear") {
  const auto [form, symbol] =
      GENERATE(table<std::string, std::string>({{"", "spd"},
                                                {"3+1", "spd"},
                                                {"varistor, 3+1", "spd-varistor"},
                                                {"spark gap", "spd-spark-gap"},
                                                {"spark gap with varistor", "spd"}}));
  site::Site site;
  site.elements.emplace_back();
  site.elements.back().facts = site::SurgeProtector{.form = form};
  CHECK(diagram::symbol_name(site, 0) == symbol);
}
