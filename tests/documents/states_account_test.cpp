// What the table of states says, against values worked out by hand for a sample and for the
// reference layouts, and against the traced loops themselves.
#include "documents/states_account.hpp"

#include <algorithm>
#include <sstream>
#include <string>

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "documents/state_table.hpp"
#include "linewright.hpp"
#include "network/loops.hpp"
#include "support/expected.hpp"
#include "support/paths.hpp"
#include "support/reference_layouts.hpp"
#include "support/site_from.hpp"

namespace linewright::tests {
namespace {

using documents::AccountPart;
using documents::StatesAccount;

/// A site with its network and states.
struct Looked {
  site::Site site;
  network::Network network;
  std::vector<network::StateView> states;

  explicit Looked(std::string_view yaml) : site(site_from(yaml)), network(network::build(site)) {
    for (const site::State& state : site.states)
      states.push_back(network::view(network, site, state));
  }
  Looked(const Looked&) = delete;
  Looked& operator=(const Looked&) = delete;
  ~Looked() = default;
  StatesAccount account() const { return documents::states_account(site, network, states); }
};

std::string sample(const std::string& name) {
  return text_of(source_folder() + "/samples/" + name + "/" + name + ".yaml");
}

/// The cells of a row, " | " between.
std::string cells(const StatesAccount& account, AccountPart part, std::string_view subject) {
  for (const auto& section : account.sections)
    for (const auto& row : section.rows) {
      if (section.part != part || row.subject != subject) continue;
      std::string text;
      for (const std::string& cell : row.cells)
        text += (text.empty() ? "" : " | ") + cell;
      return text;
    }
  return "no row " + std::string(subject);
}

std::string circuit(const StatesAccount& account, std::string_view device) {
  for (const auto& row : account.sections.back().rows)
    if (row.device == device) return cells(account, AccountPart::rcds, row.subject);
  return "no circuit " + std::string(device);
}

}  // namespace

TEST_CASE("states: what lies behind a transformer is never called dead while one side is alive") {
  const Looked barn(R"(
supply: {system: 3/N/PE 230/400 V 50 Hz, earthing: TN-S, fuse: 63 A gG}
boards:
  +A1: {feed: [supply, -Q1 switch-disconnector 63 A 4P]}
  +A2:
    feed: [A1, -F2 C32 4P, -T9 transformer 10 kVA, -Q2 switch-disconnector 63 A 4P]
    circuits:
      - {id: -F21, name: Machines, device: B10 1P+N 30 mA type A}
states:
  grid: {}
  barn off: {running: [supply], -Q2: open}
  off: {-Q1: open}
)");
  const StatesAccount account = barn.account();
  CHECK(cells(account, AccountPart::boards, "+A1") == "supply | supply | dead");
  CHECK(cells(account, AccountPart::boards, "+A2") == "? | dead | dead");
  CHECK(account.sections.back().rows.back().cells == std::vector<std::string>{"?", "–", "–"});
  REQUIRE(account.not_known.size() == 1);
  CHECK(account.not_known.front().find("-T9") != std::string::npos);
  const auto table = documents::state_table(barn.site, barn.network, barn.states);
  CHECK(table.rows[0].alive == "+A2?");
  CHECK(table.rows[2].alive == "none");
}

TEST_CASE("states: what an inverter passes on from another inverter is not called dead") {
  const Looked cascade(R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S, fuse: 63 A gG}
inverters:
  -T1: {kind: hybrid, backup side: yes, power: 5 kVA, bond: closes in island}
  -T2: {kind: hybrid, backup side: yes, power: 5 kVA, bond: closes in island}
boards:
  +A1: {feed: [supply, -Q1 switch-disconnector 63 A 2P]}
  +A2: {feed: [-T1:backup, -Q2 switch-disconnector 63 A 2P]}
  +A3:
    feed: [-T2:backup, -Q3 switch-disconnector 63 A 2P]
    circuits:
      - {id: -F31, name: Lights, device: B10 1P+N 30 mA type A}
chains:
  - [A1, -F21 C32 2P two-way, -T1:ac]
  - [A2, -F22 C32 2P two-way, -T2:ac]
states:
  island: {running: [-T1], -Q1: open}
  off: {running: [], -Q1: open}
)");
  const StatesAccount account = cascade.account();
  CHECK(cells(account, AccountPart::boards, "+A2") == "-T1 | dead");
  CHECK(cells(account, AccountPart::boards, "+A3") == "? | dead");
}

TEST_CASE("states: the house of the samples, every part worked out by hand") {
  const StatesAccount house = Looked(sample("tarn-house")).account();
  CHECK(house.states == std::vector<std::string>{"grid", "island", "generator", "bypass", "off",
                                                 "bypass on generator"});
  const auto at = [&](AccountPart part, std::string_view subject) {
    return cells(house, part, subject);
  };
  CHECK(at(AccountPart::switches, "-Q1") == "I | I | II | I | 0 | II");
  CHECK(at(AccountPart::switches, "-Q2") == "I | I | I | II | 0 | II");
  CHECK(at(AccountPart::switches, "-X5") == "open | closed | open | closed | closed | closed");
  CHECK(at(AccountPart::sources, "supply") == "runs | – | – | runs | – | –");
  CHECK(at(AccountPart::sources, "-T1") == "follows | runs | follows | – | – | –");
  CHECK(at(AccountPart::boards, "+A1") == "supply | dead | dead | supply | dead | dead");
  CHECK(at(AccountPart::boards, "+A4") == "supply | -T1 + -T2 | -G2 | supply | dead | -G2");
  CHECK(at(AccountPart::bonds, "supply") == "1 at supply | – | – | 1 at supply | – | –");
  CHECK(at(AccountPart::bonds, "-G2") == "– | – | 1 at -G2 | – | – | 1 at -G2");
  CHECK(at(AccountPart::bonds, "-T1") == "– | 1 at -X5 | – | – | – | –");
  // The distributor's neutral is earthed far away, the house on its own rod: TT. Behind a source
  // with a bond of its own the fault comes home over metal, neutral and earth apart: TN-S.
  CHECK(at(AccountPart::earthing, "supply") == "TT | – | – | TT | – | –");
  CHECK(at(AccountPart::earthing, "-G2") == "– | – | TN-S | – | – | TN-S");
  CHECK(at(AccountPart::earthing, "-T1") == "– | TN-S | – | – | – | –");
  CHECK(circuit(house, "-F51") == "-F1 -F51 | -F51 | -F51 | -F1 -F51 | – | -F51");
  CHECK(circuit(house, "-F11") == "-F1 -F11 | – | – | -F1 -F11 | – | –");
  CHECK(std::ranges::count(house.always_closed, "-Q4") == 1);
  CHECK(house.not_known.empty());
}

TEST_CASE("states: the reference layouts have their bonds and kinds of earthing") {
  const StatesAccount a = Looked(layout_a).account();
  CHECK(cells(a, AccountPart::earthing, "-T1") == "– | TN-S | – | – | –");
  CHECK(cells(a, AccountPart::earthing, "supply") == "TN-C-S | – | – | TN-C-S | –");
  CHECK(cells(a, AccountPart::earthing, "-G2") == "– | – | TN-S | – | –");
  const StatesAccount b = Looked(layout_b).account();
  CHECK(cells(b, AccountPart::earthing, "supply") == "TT | – | TT | –");
  CHECK(cells(b, AccountPart::earthing, "-T1") == "– | TN-S | – | –");
  CHECK(circuit(b, "-F31") == "-F1 -F31 | -F31 | -F1 -F31 | –");
  const StatesAccount c = Looked(layout_c).account();
  CHECK(cells(c, AccountPart::bonds, "-G2") == "– | – | 1 at -X2");  // the split of the PEN
  CHECK(cells(c, AccountPart::earthing, "supply") == "TN-C-S | – | –");
  CHECK(cells(c, AccountPart::earthing, "-G2") == "– | – | TN-S");
  const StatesAccount d = Looked(layout_d).account();
  CHECK(cells(d, AccountPart::bonds, "supply") == "1 at supply | –");
  CHECK(cells(d, AccountPart::bonds, "-G2") == "– | 1 at -G2");
  CHECK(cells(d, AccountPart::earthing, "supply") == "TN-S | –");
  const StatesAccount e = Looked(layout_e()).account();
  CHECK(cells(e, AccountPart::bonds, "-G2") == "– | 1 at supply");
}

TEST_CASE("states: without its bond an island is IT, and no device sees a fault") {
  std::string yaml(layout_b);
  const std::string bond = "bond: closes in island";
  yaml.replace(yaml.find(bond), bond.size(), "bond: none");
  const StatesAccount island = Looked(yaml).account();
  CHECK(cells(island, AccountPart::bonds, "-T1") == "– | 0 | – | –");
  CHECK(cells(island, AccountPart::earthing, "-T1") == "– | IT | – | –");
  CHECK(circuit(island, "-F31") == "-F1 -F31 | none | -F1 -F31 | –");
}

TEST_CASE("states: what the file leaves open is told by name, not guessed") {
  std::string yaml(layout_c);
  const std::string poles = "-Q1: contactor 63 A 1P";
  yaml.replace(yaml.find(poles), poles.size(), "-Q1: contactor 63 A");
  const StatesAccount open = Looked(yaml).account();
  const auto told = std::ranges::find_if(open.not_known, [](const std::string& line) {
    return line.starts_with("which conductors -Q1 joins");
  });
  REQUIRE(told != open.not_known.end());
  CHECK(documents::account_text(open).find(*told) != std::string::npos);
}

TEST_CASE("states: the devices named are those that the traced loops say see the fault") {
  for (const char* name : {"tarn-house", "terrace", "clinic", "farm"}) {
    const Looked looked(sample(name));
    for (const network::StateView& state : looked.states) {
      std::vector<std::size_t> forming;
      for (std::size_t s = 0; s < looked.network.sources.size(); ++s)
        for (const network::Zone& zone : state.zones)
          if (std::ranges::count(zone.sources, looked.network.sources[s].element) > 0)
            forming.push_back(s);
      for (const network::Loop& loop :
           network::trace_loops(looked.network, looked.site, state.positions, forming)) {
        std::istringstream words(documents::rcds_that_see(looked.site, state, loop.load));
        std::vector<std::string> named;
        for (std::string word; words >> word;)
          named.push_back(word);
        std::vector<std::string> seeing;
        for (const network::RcdOnLoop& rcd : loop.rcds)
          if (rcd.sees) seeing.push_back(looked.site.elements[rcd.element].designation);
        INFO(name << " " << state.name() << " " << looked.site.elements[loop.load].designation);
        CHECK(named == seeing);
      }
    }
  }
}

TEST_CASE("states: the table for people is no wider than a page and names every state") {
  for (const char* name : {"tarn-house", "terrace", "clinic", "farm"}) {
    INFO(name);
    const StatesAccount account = Looked(sample(name)).account();
    for (const std::size_t width : {100U, 72U}) {
      std::istringstream lines(documents::account_text(account, width));
      std::size_t longest = 0;
      for (std::string line; std::getline(lines, line);)
        longest = std::max(longest, static_cast<std::size_t>(std::ranges::count_if(
                                        line, [](char c) { return (c & 0xC0) != 0x80; })));
      CHECK(longest <= width);
    }
    const std::string text = documents::account_text(account);
    CHECK(text.find("own") != std::string::npos);
  }
}

TEST_CASE("states: every circuit of every sample is in the table for people") {
  for (const char* name : {"tarn-house", "terrace", "clinic", "farm"}) {
    const StatesAccount account = Looked(sample(name)).account();
    const std::string text = documents::account_text(account);
    for (const auto& row : account.sections.back().rows) {
      INFO(name << " " << row.device);
      CHECK(text.find(row.device) != std::string::npos);
    }
  }
}

TEST_CASE("states: as data every row keeps its cells, and no cell looks like a formula") {
  const site::Site site = site_from(sample("clinic"));
  const auto json = nlohmann::json::parse(states_of_site(site, StatesFormat::json));
  CHECK(json["states"].size() == 6);
  for (const auto& row : json["switches"])
    if (row["subject"] == "-Q4") CHECK(row["states"]["bypass on generator"] == "II");
  CHECK(json["rcds"].size() == 15);  // 1 in +A1, 4 in +A3, 7 in +A4, 3 in +A5
  CHECK(json["not_known"].empty());
  std::istringstream csv(states_of_site(site, StatesFormat::csv));
  std::size_t rows = 0;
  for (std::string line; std::getline(csv, line); ++rows) {
    INFO(line);
    CHECK(line.ends_with("\r"));
    for (const char* sign : {",-", ",+", ",=", ",@"})
      CHECK(line.find(sign) == std::string::npos);
  }
  std::size_t wanted = 1;
  for (const char* part : {"switches", "sources", "boards", "bonds", "earthing", "rcds"})
    wanted += json[part].size();
  CHECK(rows == wanted);
}

TEST_CASE("states: commas and quotes in the user's words stay in their cell") {
  std::string yaml(layout_d);
  const std::string id = "id: -F11,";
  yaml.replace(yaml.find(id), id.size(), "id: -F11, name: 'Pump, \"big\"',");
  const std::string csv = states_of_site(site_from(yaml), StatesFormat::csv);
  CHECK(csv.find("\"Pump, \"\"big\"\"\"") != std::string::npos);
}

}  // namespace linewright::tests
