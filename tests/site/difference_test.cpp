// What changed between two versions of a site: nothing missed, nothing made up.
#include "site/difference.hpp"

#include <algorithm>
#include <map>
#include <string>
#include <vector>

#include <catch2/catch.hpp>
#include <fmt/core.h>
#include <fmt/format.h>

#include "documents/changes.hpp"
#include "seeded/fault_kinds.hpp"
#include "seeded/harmless_kinds.hpp"
#include "support/expected.hpp"
#include "support/paths.hpp"
#include "support/site_from.hpp"

using namespace linewright;
using namespace linewright::tests;

namespace {

constexpr const char* house = R"(site: {name: House, date: 2026-01-01, notes: [Not to scale.]}
profile: international
supply: {system: 3/N/PE 230/400 V 50 Hz, earthing: TN-S, fault current: 3 kA to 10 kA, fuse: 63 A gG}
earthing: {main terminal: A1, electrodes: {-XE1: 5 ohm}}
boards:
  +A1:
    name: Main board
    busbar: 63 A
    feed: [supply, -W1 5×16 mm² Cu 4 m, -Q10 switch-disconnector 63 A 4P]
    circuits:
      - {id: -F1, name: Lights, device: B10 1P+N 30 mA type A 6 kA, cable: 3×1.5 mm² Cu 20 m, load: 0.3 kW, use: lighting, phase: L1}
      - {id: -F2, name: Sockets, device: B16 1P+N 30 mA type A 6 kA, cable: 3×2.5 mm² Cu 25 m, load: 1 kW, use: sockets, phase: L2}
      - {id: -F3, name: Cooker, device: B16 4P 30 mA type A 6 kA, cable: 5×2.5 mm² Cu 12 m, load: 7 kW, use: cooking}
  +A2:
    name: Annexe
    busbar: 40 A
    feed: [A1, -F30 C32 4P 6 kA, -W3 5×6 mm² Cu 15 m]
    circuits:
      - {id: -F21, name: Workshop, device: B16 1P+N 30 mA type A 6 kA, cable: 3×2.5 mm² Cu 9 m, load: 1 kW, use: sockets, phase: L1}
states: {grid: {-Q10: closed}}
)";

std::string with(const std::string& old_words, const std::string& new_words) {
  std::string text = house;
  const auto at = text.find(old_words);
  REQUIRE(at != std::string::npos);
  return text.replace(at, old_words.size(), new_words);
}

/// The changes from one text to another in words, one a line.
std::string words_between(const std::string& before, const std::string& after) {
  const site::Site old_site = site_from(before);
  const site::Site new_site = site_from(after);
  std::string words;
  for (const site::Change& change : site::difference({old_site, site::designations_in(before)},
                                                     {new_site, site::designations_in(after)}))
    words += documents::change_words(change) + "\n";
  return words;
}

std::string words_with(const std::string& old_words, const std::string& new_words) {
  return words_between(house, with(old_words, new_words));
}

/// The line of the house that holds those words, with its line end.
std::string line_of(const std::string& words) {
  const std::string text = house;
  const auto at = text.find(words);
  const auto begin = text.rfind('\n', at) + 1;
  return text.substr(begin, text.find('\n', at) + 1 - begin);
}

std::string text_of_sample(std::string_view sample) {
  return text_of(source_folder() + "/samples/" + std::string(sample) + ".yaml");
}

const std::vector<std::string> samples{"tarn-house/tarn-house", "terrace/terrace", "clinic/clinic",
                                       "farm/farm"};

}  // namespace

TEST_CASE("difference: a value is told with its circuit, old before new") {
  CHECK(words_with("3×1.5 mm² Cu 20 m", "3×2.5 mm² Cu 20 m") ==
        "RCBO -F1 'Lights': cable size 1.5 mm² → 2.5 mm²\n");
  CHECK(words_with("load: 1 kW, use: sockets, phase: L2", "load: 2 kW, use: sockets, phase: L2") ==
        "RCBO -F2 'Sockets': load power 1 kW → 2 kW\n");
  CHECK(words_with("fuse: 63 A gG", "fuse: 80 A gG") ==
        "supply 'Public supply': service fuse 63 A → 80 A\n"
        "fuse 'Service fuse': rated current 63 A → 80 A\n");
  CHECK(words_with("5×6 mm² Cu 15 m", "5×10 mm² Cu 18 m") ==
        "cable -W3: size 6 mm² → 10 mm²; length 15 m → 18 m\n");
  CHECK(words_with("name: Annexe", "name: Studio") == "board +A2 'Studio': name Annexe → Studio\n");
}

TEST_CASE("difference: a value that is said no more, or for the first time") {
  CHECK(words_with(", use: sockets, phase: L2", ", phase: L2") ==
        "RCBO -F2 'Sockets': load use sockets → not said\n");
  CHECK(words_with("use: cooking}", "use: cooking, priority: may}") ==
        "RCBO -F3 'Cooker': load priority not said → may\n");
}

TEST_CASE("difference: a circuit more is one change, with its cable and its load") {
  const std::string line = line_of("-F2,");
  std::string more = line;
  more.replace(more.find("-F2"), 3, "-F9");
  more.replace(more.find("Sockets"), 7, "Freezer");
  const std::string words = words_with(line, more + line);
  CHECK(std::ranges::count(words, '\n') == 1);
  CHECK(words.starts_with("RCBO -F9 'Freezer' added: board +A1; rated current 16 A;"));
  CHECK(words.find("load power 1 kW") != std::string::npos);
  CHECK(words.find("cable size 2.5 mm²") != std::string::npos);
}

TEST_CASE("difference: a circuit less is one change, and is told where it stood") {
  const std::string words = words_with(line_of("-F2,"), "");
  CHECK(std::ranges::count(words, '\n') == 1);
  CHECK(words.starts_with("RCBO -F2 'Sockets' removed: board +A1;"));
}

TEST_CASE("difference: a circuit on another board has moved, it did not go and come") {
  const std::string line = line_of("-F2,");
  std::string text = with(line, "");
  const std::string before = "      - {id: -F21";
  text.insert(text.find(before), line);
  CHECK(words_between(house, text) == "RCBO -F2 'Sockets': moved from +A1 to +A2\n");
}

TEST_CASE("difference: what was renamed and nothing else is known again") {
  CHECK(words_with("id: -F2,", "id: -F7,") == "RCBO -F7 'Sockets': designation -F2 → -F7\n");
  CHECK(words_with("-W3 5×6", "-W33 5×6") == "cable -W33: designation -W3 → -W33\n");
}

TEST_CASE("difference: two circuits that change their designations change all that they say") {
  std::string text = with("id: -F1,", "id: -F0,");
  text.replace(text.find("id: -F2,"), 8, "id: -F1,");
  text.replace(text.find("id: -F0,"), 8, "id: -F2,");
  const std::string words = words_between(house, text);
  INFO(words);
  CHECK(std::ranges::count(words, '\n') == 2);
  CHECK(words.starts_with("RCBO -F2 'Lights': "));
  CHECK(words.find("RCBO -F1 'Sockets': ") != std::string::npos);
  CHECK(words.find("rated current 10 A → 16 A") != std::string::npos);
  CHECK(words.find("cable size 2.5 mm² → 1.5 mm²") != std::string::npos);
}

TEST_CASE("difference: another feed is told by its ends") {
  const std::string words = words_with("feed: [A1, -F30", "feed: [supply, -F30");
  INFO(words);
  CHECK(words.find("now fed from fuse 'Service fuse':2") != std::string::npos);
  CHECK(words.find("was from busbar of +A1:bar") != std::string::npos);
}

TEST_CASE("difference: states, notes, profile and permit are compared too") {
  CHECK(words_with("{grid: {-Q10: closed}}", "{grid: {-Q10: open}}") ==
        "state grid: -Q10 closed → open\n");
  CHECK(words_with("closed}}", "closed}, away: {-Q10: open}}").starts_with("state away added"));
  CHECK(words_with("[Not to scale.]", "[To scale.]") ==
        "note 'To scale.' added\nnote 'Not to scale.' removed\n");
  CHECK(words_with("profile: international", "profile: GB") ==
        "profile: rules of international → GB\n");
  CHECK(words_with("profile: inter", "permit: {customer: Mill}\nprofile: inter") ==
        "permit: customer not said → Mill\n");
  CHECK(words_with("date: 2026-01-01", "date: 2026-02-01") ==
        "title block: date 2026-01-01 → 2026-02-01\n");
}

TEST_CASE("difference: each change has its place in the file that has the thing") {
  const std::string text = with(line_of("-F2,"), "");
  const site::Site old_site = site_from(house);
  const site::Site new_site = site_from(text);
  const auto changes = site::difference({old_site, site::designations_in(house)},
                                        {new_site, site::designations_in(text)});
  REQUIRE(changes.size() == 1);
  CHECK(changes[0].before.line == 12);
  CHECK_FALSE(changes[0].after.known());
}

TEST_CASE("difference: another order, form or wording of the file makes none") {
  std::map<std::string_view, std::size_t> edits;
  for (const std::string& sample : samples) {
    const std::string text = text_of_sample(sample);
    for (const auto kinds : {other_order(), other_words()})
      for (const HarmlessKind& kind : kinds) {
        if (kind.text == nullptr) continue;
        std::size_t of_kind = 0;
        kind.text(text, [&](const std::string& place, const std::string& yaml, const Renamed&) {
          constexpr std::size_t enough = 5;
          if (++of_kind > enough) return;
          // Single-phase circuits of the farm take their phases in turn, so there order is a fact.
          if (sample == "farm/farm" && kind.name == "circuits in another order") return;
          ++edits[kind.name];
          INFO(sample << ", " << kind.name << " at " << place);
          // The permit's sentences are compared as they are written.
          const std::string words = words_between(text, yaml);
          CHECK((words.empty() || words.starts_with("permit: ")));
          CHECK(std::ranges::count(words, '\n') == (words.empty() ? 0 : 1));
        });
      }
  }
  CHECK(edits.size() > 25);
}

TEST_CASE("difference: every mistake that can be seeded is one, both ways") {
  std::vector<std::string> missed;
  std::size_t made = 0;
  for (const std::string& sample : samples) {
    const std::string text = text_of_sample(sample);
    const site::Site sound = site_from(text);
    const site::Version version{sound, site::designations_in(text)};
    for (const FaultKind& kind : all_fault_kinds()) {
      std::size_t of_kind = 0;
      kind.make(sound, [&](const std::string& place, const site::Site& wrong) {
        constexpr std::size_t enough = 3;
        if (++of_kind > enough) return;
        ++made;
        const site::Version other{wrong, version.written};
        if (site::difference(version, other).empty() || site::difference(other, version).empty())
          missed.push_back(fmt::format("{}: {} at {}", sample, kind.name, place));
      });
    }
  }
  CHECK(made > 300);
  CHECK(fmt::format("{}", fmt::join(missed, "\n")) == "");
}

TEST_CASE("difference: designations are found where they begin a word") {
  CHECK(site::designations_in("a: [-F1 B16, {id: -W2.1}, x-y, 3-4, +A1:grid, '-X5']") ==
        std::set<std::string>{"-F1", "-W2.1", "+A1", "-X5"});
}
