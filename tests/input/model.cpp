// What the reader makes of a file: elements, runs and the conductors that each carries.
#include <string>
#include <string_view>

#include <catch2/catch.hpp>

#include "input/read.hpp"
#include "support/site_from.hpp"

using namespace linewright;
using tests::site_from;

namespace {

// "L1 N PE" of the run that ends at that terminal; of the last of them if there are several.
std::string carried_to(const site::Site& site, std::string_view element,
                       std::string_view terminal) {
  const std::size_t index = site.find(element);
  REQUIRE(index != site::none);
  std::string found = "no run";
  for (const site::Run& run : site.runs)
    if (run.to.element == index && site.elements[index].terminals[run.to.terminal] == terminal)
      found = words(run.conductors);
  return found;
}

std::string through(const site::Site& site, std::string_view element) {
  const std::size_t index = site.find(element);
  REQUIRE(index != site::none);
  return words(site.elements[index].conductors);
}

std::string assembly_of(const site::Site& site, std::string_view element) {
  const std::size_t index = site.find(element);
  REQUIRE(index != site::none);
  const std::size_t assembly = site.elements[index].assembly;
  return assembly == site::none ? "" : site.assemblies[assembly].designation;
}

// True if a run of just PE joins the two, whichever way it is drawn.
bool earthed_by(const site::Site& site, std::string_view a, std::string_view b) {
  const std::size_t first = site.find(a);
  const std::size_t second = site.find(b);
  for (const site::Run& run : site.runs) {
    const bool joins = (run.from.element == first && run.to.element == second) ||
                       (run.from.element == second && run.to.element == first);
    if (joins && words(run.conductors) == "PE") return true;
  }
  return false;
}

std::string board_on(std::string_view supply, std::string_view feed, std::string_view more = "") {
  return "supply: {" + std::string(supply) + "}\nboards:\n  +A1:\n    feed: [supply, " +
         std::string(feed) + "]\n" + std::string(more);
}

}  // namespace

TEST_CASE("model: a TT supply brings no earth, the board has it from the terminal") {
  const site::Site site = site_from(board_on("system: 3/N/PE 230/400 V 50 Hz, earthing: TT",
                                             "-W1 4×16 mm², -F1 RCD 63 A 4P 300 mA type A S"));
  CHECK(through(site, "-X0") == "L1 L2 L3 N");
  CHECK(carried_to(site, "-F1", "1") == "L1 L2 L3 N");
  CHECK(carried_to(site, "-WB1", "bar") == "PE");  // the last one: from the earthing terminal
  CHECK(through(site, "-F1") == "L1 L2 L3 N");     // the RCD has no PE inside
  CHECK(earthed_by(site, "-XE", "-WB1"));
  CHECK_FALSE(earthed_by(site, "-XE", "-X0"));
}

TEST_CASE("model: a TN-S supply's PE comes with the cable, or on its own") {
  const site::Site five = site_from(board_on("system: 3/N/PE 230/400 V 50 Hz, earthing: TN-S",
                                             "-W1 5×16 mm², -Q1 switch 63 A 4P"));
  CHECK(carried_to(five, "-Q1", "1") == "L1 L2 L3 N PE");
  CHECK_FALSE(earthed_by(five, "-XE", "-X0"));  // that would be the same PE twice
  const site::Site four = site_from(board_on("system: 3/N/PE 230/400 V 50 Hz, earthing: TN-S",
                                             "-W1 4×16 mm², -Q1 switch 63 A 4P"));
  CHECK(carried_to(four, "-Q1", "1") == "L1 L2 L3 N");
  CHECK(earthed_by(four, "-XE", "-X0"));
}

TEST_CASE("model: a supplier's earth that is disconnected reaches nothing") {
  const site::Site site =
      site_from(board_on("system: 3/N/PE 230/400 V 50 Hz, earthing: TN-S", "-W1 5×16 mm²",
                         "earthing: {supplier earth: disconnected, electrodes: {-XE1: 20 ohm}}\n"));
  for (const site::Run& run : site.runs)
    if (run.from.element == site.find("-X0")) CHECK(words(run.conductors) == "L1 L2 L3 N");
  CHECK(earthed_by(site, "-XE", "-XE1"));
  CHECK_FALSE(earthed_by(site, "-XE", "-X0"));
}

TEST_CASE("model: the PEN of a TN-C-S supply is split at the cut-out, or just ahead of a board") {
  const site::Site cut_out = site_from(
      board_on("system: 1/N/PE 230 V 50 Hz, earthing: TN-C-S", "3×16 mm², -Q1 switch 63 A 2P"));
  CHECK(carried_to(cut_out, "-X1", "1") == "L1 PEN");
  CHECK(carried_to(cut_out, "-Q1", "1") == "L1 N PE");
  const site::Site board = site_from(board_on(
      "system: 1/N/PE 230 V 50 Hz, earthing: MEN, pen split: A1", "2×16 mm², -Q1 switch 63 A 1P"));
  CHECK(carried_to(board, "-Q1", "1") == "L1 PEN");
  CHECK(carried_to(board, "-X1", "1") == "L1 PEN");
  CHECK(through(board, "-X1") == "L1 N PE PEN");
  CHECK(assembly_of(board, "-X1") == "+A1");
  std::string below;
  for (const site::Run& run : board.runs)
    if (run.from.element == board.find("-X1")) below = words(run.conductors);
  CHECK(below == "L1 N PE");
  const site::Site device =
      site_from(board_on("system: 1/N/PE 230 V 50 Hz, earthing: TN-C-S, pen split: -X7",
                         "2×16 mm², -Q1 switch 63 A 1P, -X7 PEN split"));
  CHECK(through(device, "-X7") == "L1 N PE PEN");
}

TEST_CASE("model: the PEN can be split in a panel, and a system without neutral brings none") {
  const site::Site panel = site_from(
      "supply: {system: 3/N/PE 230/400 V, earthing: TN-C-S, pen split: A2}\n"
      "assemblies:\n  +A2:\n    devices: {-Q3: changeover I-0-II 63 A 4P}\n"
      "    busbars: {-WB1: 63 A, -WB2: 63 A}\n"
      "    chains: [[supply, 4×16 mm², -F1 fuse 63 A gG 3P, -Q3:I], [-Q3, -WB1], [-WB1, -WB2]]\n");
  CHECK(carried_to(panel, "-F1", "2") == "no run");
  CHECK(carried_to(panel, "-F1", "1") == "L1 L2 L3 PEN");
  CHECK(carried_to(panel, "-Q3", "I") == "PE");  // the last: from the earthing terminal
  CHECK(through(panel, "-X1") == "L1 L2 L3 N PE PEN");
  const site::Site isolated = site_from(
      "supply: {system: 3/PE 400/690 V, earthing: IT}\n"
      "boards: {+A1: {feed: [supply, 4×16 mm²]}}\n");
  CHECK(through(isolated, "-X0") == "L1 L2 L3");
  CHECK(tests::mistakes_in("supply: {system: 3/PEN 230/400 V, earthing: TT}\n") ==
        "1:45+2 the system has a PEN, the earthing none | write 'earthing: TN-C-S', or the system "
        "with '/N/PE'\n");
}

TEST_CASE("model: the fourth core is PEN, N or PE, whichever it must be") {
  const std::string circuits =
      "    circuits:\n"
      "      - {id: -F1, name: Motor, device: C16 3P, cable: 4×2.5 mm²}\n"
      "      - {id: -F2, name: Oven, device: C16 4P, cable: 4×2.5 mm²}\n"
      "      - {id: -F3, name: Said, device: C16 3P, cable: 4×2.5 mm² (L1 L2 L3 N)}\n";
  const site::Site site =
      site_from(board_on("system: 3/N/PE 230/400 V, earthing: TN-S", "5×16 mm²", circuits));
  CHECK(carried_to(site, "-E1", "in") == "L1 L2 L3 PE");
  CHECK(carried_to(site, "-E2", "in") == "L1 L2 L3 N");
  CHECK(carried_to(site, "-E3", "in") == "L1 L2 L3 N");
}

TEST_CASE("model: single-phase circuits take the phases of their board in turn") {
  const std::string circuits =
      "    circuits:\n"
      "      - {name: a, device: B16 1P+N, cable: 3×1.5 mm²}\n"
      "      - {name: b, device: B16 1P+N, cable: 3×1.5 mm²}\n"
      "      - {name: c, device: B16 1P+N, cable: 3×1.5 mm², phase: L2}\n"
      "      - group: -F90 RCD 40 A 4P 30 mA type A\n"
      "        circuits:\n"
      "          - {name: d, device: B16 1P+N, cable: 3×1.5 mm²}\n"
      "          - {name: e, device: B16 1P+N, cable: 3×1.5 mm²}\n"
      "          - {name: f, device: B16 4P, cable: 5×1.5 mm²}\n";
  const site::Site site =
      site_from(board_on("system: 3/N/PE 230/400 V, earthing: TN-S", "5×16 mm²", circuits));
  CHECK(carried_to(site, "-E1", "in") == "L1 N PE");
  CHECK(carried_to(site, "-E2", "in") == "L2 N PE");
  CHECK(carried_to(site, "-E3", "in") == "L2 N PE");
  CHECK(carried_to(site, "-E4", "in") == "L3 N PE");
  CHECK(carried_to(site, "-E5", "in") == "L1 N PE");
  CHECK(carried_to(site, "-E6", "in") == "L1 L2 L3 N PE");
  CHECK(through(site, "-F90") == "L1 L2 L3 N PE");
}

TEST_CASE("model: a board on one phase gives that phase to all its circuits") {
  const std::string more =
      "  +A2:\n    feed: [A1, 3×6 mm²]\n    phase: L3\n"
      "    circuits: [{name: a, device: B16 1P+N, cable: 3×1.5 mm²}]\n";
  const site::Site site =
      site_from(board_on("system: 3/N/PE 230/400 V, earthing: TN-S", "5×16 mm²", more));
  CHECK(through(site, "-WB2") == "L3 N PE");
  CHECK(carried_to(site, "-E1", "in") == "L3 N PE");
}

TEST_CASE("model: a borrowed neutral comes from below the other circuit's device") {
  const std::string circuits =
      "    circuits:\n"
      "      - {id: -F1, name: Stairs, device: B6 1P+N, cable: 3×1.5 mm²}\n"
      "      - {id: -F2, name: Landing, device: B6 1P+N, cable: 3×1.5 mm², neutral from: -F1}\n";
  const site::Site site =
      site_from(board_on("system: 1/N/PE 230 V, earthing: TN-S", "3×16 mm²", circuits));
  std::string own = "none";
  std::string borrowed = "none";
  for (const site::Run& run : site.runs) {
    if (run.to.element != site.find("-E2")) continue;
    const std::string& from = site.elements[run.from.element].designation;
    (from == "-F1" ? borrowed : own) = words(run.conductors);
    if (from == "-F1") CHECK(run.from.terminal == 1);
  }
  CHECK(own == "L1 PE");
  CHECK(borrowed == "N");
}

TEST_CASE("model: a generator's PE comes with its cable, a link joins N and PE where it stands") {
  const std::string more =
      "generators: {-G2: {power: 5 kVA}}\n"
      "earthing: {links: {-X6: {at: -G2}}}\n"
      "devices: {-Q3: changeover I-0-II 63 A 2P}\nchains:\n"
      "  - [A1, 3×6 mm², -Q3:I]\n  - [-G2, 3×6 mm², -F9 C20 2P, -Q3:II]\n";
  const site::Site site =
      site_from(board_on("system: 1/N/PE 230 V, earthing: TN-S", "3×16 mm²", more));
  CHECK(through(site, "-G2") == "L1 N PE");
  CHECK(carried_to(site, "-X6", "at") == "N PE");
  CHECK(through(site, "-Q3") == "L1 N PE");
}

TEST_CASE("model: devices stand where the cables beside them say") {
  const std::string more =
      "  +A2:\n    feed: [A1, -F1 C32 2P, 3×6 mm², -P1 meter, 3×6 mm², -Q2 switch 32 A 2P]\n";
  const site::Site site =
      site_from(board_on("system: 1/N/PE 230 V, earthing: TN-S", "3×16 mm²", more));
  CHECK(assembly_of(site, "-F1") == "+A1");
  CHECK(assembly_of(site, "-P1") == "");
  CHECK(assembly_of(site, "-Q2") == "+A2");
}

TEST_CASE("model: what runs in a state that does not say so") {
  const site::Site site = site_from(
      "supply: {system: 1/N/PE 230 V, earthing: TN-S}\n"
      "generators: {-G2: {}}\n"
      "inverters: {-T1: {kind: hybrid, backup side: yes}, -T2: {kind: pv}}\n"
      "states: {grid: {}, island: {}, generator: {}, bypass: {}, off: {}, works: {}, "
      "named: {kind: island, running: -T1}}\n");
  const auto running = [&](std::size_t state) {
    std::string text;
    for (const std::size_t source : site.states.at(state).running)
      text += site.elements[source].designation + " ";
    return text;
  };
  CHECK(running(0) == "-X0 -T1 -T2 ");
  CHECK(running(1) == "-T1 -T2 ");
  CHECK(running(2) == "-G2 -T1 -T2 ");
  CHECK(running(3) == "-X0 -T2 ");
  CHECK(running(4) == "");
  CHECK(running(5) == "");
  CHECK(running(6) == "-T1 ");
  CHECK(site.states[6].kind == site::StateKind::island);
}

TEST_CASE("model: types and quantities are written out, keys beside them win") {
  const site::Site site = site_from(
      board_on("system: 1/N/PE 230 V, earthing: TN-S", "3×16 mm²",
               "    circuits:\n      - {name: Heater, type: heater, quantity: 3, load: 2 kW}\n"
               "types: {heater: {device: B10 1P+N, cable: 3×1.5 mm², load: 1 kW, use: fixed}}\n"));
  for (const std::string_view name : {"Heater 1", "Heater 2", "Heater 3"}) {
    bool found = false;
    for (const site::Element& element : site.elements) {
      if (element.name != name) continue;
      found = true;
      const auto* load = site::facts<site::LoadGroup>(element);
      REQUIRE(load != nullptr);
      CHECK(load->power == 2.0 * unit::kilowatt);
      CHECK(load->use == site::Use::fixed);
    }
    CHECK(found);
  }
  CHECK(site.find("-F3") != site::none);
  CHECK(site.find("-F4") == site::none);
}

TEST_CASE("model: a charge point says what it does, and its own electrode stands on its earth") {
  const site::Site site = site_from(board_on(
      "system: 1/N/PE 230 V, earthing: TN-S", "3×16 mm²",
      "    circuits:\n"
      "      - {id: -F6, name: Car, device: C40 2P, cable: 2×6 mm², use: EV, own electrode: 60 "
      "ohm,\n"
      "         charging: {points: 2, each protected: yes, managed by: -P1, on loss: minimum,\n"
      "           in island: 2 kW, gives back: no, reach: 3 m, electrode clear: yes,\n"
      "           touch voltage: 60 V, limits unbalance: no}}\n"));
  const site::LoadGroup* load = nullptr;
  std::size_t car = site::none;
  std::size_t rod = site::none;
  for (std::size_t e = 0; e < site.elements.size(); ++e) {
    if (const auto* it = site::facts<site::LoadGroup>(site.elements[e])) {
      load = it;
      car = e;
    }
    if (site::facts<site::Electrode>(site.elements[e]) != nullptr) rod = e;
  }
  REQUIRE(load != nullptr);
  REQUIRE(load->charging);
  CHECK(load->own_electrode == true);
  CHECK(load->charging->points == 2);
  CHECK(load->charging->managed == true);
  CHECK(load->charging->meter == "-P1");
  CHECK(load->charging->in_island == site::IslandCharging::held_back);
  CHECK(load->charging->island_limit == 2.0 * unit::kilowatt);
  CHECK(load->charging->gives_back == site::GivesBack::no);
  CHECK(load->charging->reach == 3.0 * unit::metre);
  CHECK(load->charging->limits_unbalance == false);
  REQUIRE(rod != site::none);
  CHECK(site::facts<site::Electrode>(site.elements[rod])->resistance == 60.0 * unit::ohm);
  CHECK(earthed_by(site, site.elements[car].designation, site.elements[rod].designation));
  CHECK(words(site.elements[car].conductors) == "L1 N PE");
}

TEST_CASE("model: a charge point that no meter holds back says so") {
  const site::Site site = site_from(
      board_on("system: 1/N/PE 230 V, earthing: TN-S", "3×16 mm²",
               "    circuits:\n      - {name: Car, device: C40 2P, use: EV, charging: {managed by: "
               "no, in island: off}}\n"));
  for (const site::Element& element : site.elements) {
    const auto* load = site::facts<site::LoadGroup>(element);
    if (load == nullptr) continue;
    REQUIRE(load->charging);
    CHECK(load->charging->managed == false);
    CHECK(load->charging->in_island == site::IslandCharging::off);
  }
}

TEST_CASE("model: 'charging' on a circuit that charges no vehicle is a mistake") {
  CHECK(tests::mistakes_in(board_on("system: 1/N/PE 230 V, earthing: TN-S", "3×16 mm²",
                                    "    circuits:\n      - {name: Lights, device: B10 1P+N, use: "
                                    "lighting, charging: {points: 1}}\n")) ==
        "6:67+1 'charging' on a circuit that charges no vehicle | write 'use: EV' or delete this "
        "key\n");
}

TEST_CASE("model: sources say what watches over them without a joint, links what they carry") {
  const site::Site site = site_from(
      "generators: {-G2: {unearthed on purpose: yes, insulation monitor: with alarm, first fault "
      "current: 30 mA}}\n"
      "boards: {+A1: {feed: [-G2, 3×6 mm²]}}\n"
      "earthing: {links: {-X5: {at: A1, contact: yes, power contact: no, withstands: 1 kA for "
      "0.5 s}}}\n");
  const auto* set = site::facts<site::Generator>(site.elements[site.find("-G2")]);
  REQUIRE(set != nullptr);
  CHECK(set->unearthed.on_purpose == true);
  CHECK(set->unearthed.monitor == site::InsulationMonitor::with_alarm);
  CHECK(set->unearthed.first_fault == 0.03 * unit::ampere);
  const auto* link = site::facts<site::Bond>(site.elements[site.find("-X5")]);
  REQUIRE(link != nullptr);
  CHECK(link->power_contact == false);
  CHECK(link->withstand == 1000.0 * unit::ampere);
  CHECK(link->withstand_time == 0.5 * unit::second);
}
