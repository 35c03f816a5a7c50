// Procedures in words: a whole golden page, and what each kind of step must say.
#include "documents/procedure.hpp"

#include <algorithm>
#include <fstream>
#include <string>

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "linewright.hpp"
#include "support/expected.hpp"
#include "support/judge.hpp"
#include "support/paths.hpp"
#include "support/site_from.hpp"

namespace linewright::tests {
namespace {

std::string sample_text(const std::string& name) {
  return text_of(source_folder() + "/samples/" + name + "/" + name + ".yaml");
}

StepsFound steps(const std::string& yaml, const StepsOptions& options) {
  const auto found = steps_of_site(site_from(yaml), options);
  if (!found) FAIL(found.error().message);
  return *found;
}

std::string isolated(const std::string& yaml, const std::string& part,
                     const std::string& from = {}) {
  return steps(yaml, {.from = from, .isolate = part}).text;
}

bool has(const std::string& text, std::string_view part) {
  return text.find(part) != std::string::npos;
}

/// The text with every run of spaces and line ends as one space, so that breaks do not matter.
std::string flat(const std::string& text) {
  std::string out;
  for (const char c : text) {
    const char one = c == '\n' ? ' ' : c;
    if (one != ' ' || out.empty() || out.back() != ' ') out += one;
  }
  return out;
}

TEST_CASE("steps: the page of the terraced house is the one that was read by eye") {
  const std::string path = source_folder() + "/samples/terrace/steps.txt";
  const std::string now = steps(sample_text("terrace"), {.all = true}).text;
  if (approving()) std::ofstream(path, std::ios::binary) << now;
  CHECK(now == text_of(path));
}

TEST_CASE("steps: every usual procedure of every sample is ready, with nothing open") {
  for (const std::string name : {"tarn-house", "terrace", "farm", "clinic"}) {
    INFO(name);
    const auto all = nlohmann::json::parse(steps(sample_text(name), {.json = true}).text);
    CHECK(all.size() >= 10);
    for (const auto& one : all) {
      INFO(one["purpose"]);
      CHECK(one["result"] == "ready");
      CHECK(one["steps"].size() >= 1);
      for (const auto& step : one["steps"]) {
        CHECK_FALSE(step["who"].get<std::string>().empty());
        CHECK_FALSE(step["verify"].empty());
      }
    }
  }
}

TEST_CASE("steps: what was alive after a step is what is alive before the next") {
  const auto all = nlohmann::json::parse(steps(sample_text("clinic"), {.json = true}).text);
  for (const auto& one : all) {
    auto alive = one["at_first"];
    for (const auto& step : one["steps"]) {
      CHECK(step["before"] == alive);
      alive = step["after"];
    }
  }
}

TEST_CASE("steps: into the bypass the inverters are stopped first, then the switch goes over 0") {
  const std::string text =
      flat(steps(sample_text("tarn-house"), {.from = "grid", .to = "bypass"}).text);
  CHECK(has(text, "1. Stop -T1 who by hand, at the controls of -T1"));
  CHECK(has(text, "2. Stop -T2"));
  CHECK(has(text, "3. Put -Q2 to 0 who by hand, in +A2 Transfer panel"));
  CHECK(has(text, "4. Put -Q2 to II"));
  CHECK(has(text, "voltage at -Q2:common: 230 V L1 L2 L3 to N, 400 V line to line"));
}

TEST_CASE("steps: the loss of the grid tells what moves by itself and where neutral is joined") {
  const std::string text =
      flat(steps(sample_text("clinic"), {.from = "grid", .to = "island"}).text);
  CHECK(has(text, "1. The supply fails mind until the controllers have acted, -T1 still reaches"));
  CHECK(has(text, "who nobody: it happens"));
  CHECK(has(text, "-Q2 opens, moved by its controller (-T1) -X5 closes"));
  CHECK(has(text, "neutral and earth joined once, at -X5"));
  CHECK(has(text, "no voltage comes from the site at -Q10"));
}

TEST_CASE("isolate: an inverter is locked on all its sides, and its stores stay alive") {
  const std::string text = flat(isolated(sample_text("terrace"), "T1"));
  for (const std::string_view lock : {"-F21 open", "-F22 open", "-Q21 open", "-F31 open"})
    CHECK(has(text, "- " + std::string(lock)));
  CHECK(has(text, "-T1:ac: L1 N against each other and each to PE"));
  CHECK(has(text, "-T1:battery: DC+ DC− against each other and each to PE"));
  CHECK(has(text, "-B1 up to -F31: a battery cannot be switched off"));
  CHECK(has(text, "-E1 up to -Q21: alive by daylight"));
  CHECK(has(text, "its capacitors hold their charge"));
  CHECK(has(text, "prove dead before touching") == false);
  CHECK(has(text, "Prove dead before touching"));
}

TEST_CASE("isolate: a battery is parted, its inverter waits, the far side is proved dead") {
  const std::string text = flat(isolated(sample_text("terrace"), "-B1", "bypass"));
  CHECK(has(text, "note first go from 'grid' to 'bypass'"));
  CHECK(has(text, "- -F31 open, between -B1 and -T1: holds off -T1"));
  CHECK(has(text, "and its start from afar - -T1"));
  CHECK(has(text, "-T1: its capacitors hold their charge"));
  CHECK(has(text, "-F31:2, the side away from -B1: DC+ DC− against each other and each to PE"));
  CHECK(has(text, "-B1 up to -F31: a battery cannot be switched off"));
  // Told once: not as a terminal of the lock as well.
  CHECK_FALSE(has(text, "-F31:1 (from"));
}

TEST_CASE("steps: what must be minded stands before the hand moves") {
  const std::string text = flat(isolated(sample_text("terrace"), "-T1"));
  CHECK(has(text,
            "Open -F31 mind only without current: the inverter stopped, and a clamp meter for DC "
            "at zero who by hand, between -B1 and -T1"));
  const std::string back =
      flat(steps(sample_text("tarn-house"), {.from = "generator", .to = "grid"}).text);
  CHECK(has(back, "Stop -G2 mind first let it run 2 min without load"));
  CHECK_FALSE(has(back, "while the supply is dead"));
}

TEST_CASE("steps: RCDs are tested on first use of a source, not at every change") {
  const std::string first =
      flat(steps(sample_text("tarn-house"), {.from = "off", .to = "grid"}).text);
  CHECK(has(first, "before first use: every circuit's own device open"));
  // All boards that are alive at the end, also those ahead of the panel.
  CHECK(has(first,
            "RCD test on the supply at +A1: -F1 -F11 -F12; +A3: -F1 -F41 -F42 -F43 -F44 -F45; "
            "+A4: -F1 -F51"));
  // The supply's own joint was there before the first step: it is measured at the end.
  CHECK(has(first, "neutral and earth joined once, at the supply: N to PE under 5 V"));
  CHECK_FALSE(
      has(steps(sample_text("tarn-house"), {.from = "grid", .to = "island"}).text, "RCD test"));
}

TEST_CASE("steps: a contactor opens while the inverter that drives it still runs") {
  const std::string text =
      flat(steps(sample_text("clinic"), {.from = "grid", .to = "bypass"}).text);
  CHECK(text.find("Open -Q3 who by its controller (-T1)") < text.find("Stop -T1"));
  CHECK(text.find("Stop -T1") != std::string::npos);
}

TEST_CASE("steps: a source that joins others is looked at, not measured through them") {
  const std::string text =
      flat(steps(sample_text("tarn-house"), {.from = "off", .to = "island"}).text);
  CHECK(has(text,
            "at -T1:backup: 230 V L1 L2 L3 to N, 400 V line to line, 50 Hz, rotation "
            "clockwise, as the supply's"));
  CHECK(has(text, "-T2 shows that it runs, in step with -T1"));
  const std::string silent = with(sample_text("tarn-house"),
                                  "  fuse: 63 A gG\n  rotation: clockwise\n", "  fuse: 63 A gG\n");
  CHECK(has(flat(steps(silent, {.from = "off", .to = "island"}).text),
            "rotation L1-L2-L3 the same as the supply's"));
}

TEST_CASE("isolate: a lock that is not said to be lockable is open, and named") {
  const std::string yaml =
      with(sample_text("terrace"), "-F31 fuse-switch 160 A 2P isolating lockable",
           "-F31 fuse-switch 160 A 2P isolating");
  const StepsFound found = steps(yaml, {.isolate = "-B1"});
  CHECK_FALSE(found.ready);
  CHECK(has(flat(found.text), "that -F31 can be locked open is not said: write 'lockable'"));
}

TEST_CASE("isolate: a lock that is said not to isolate is not taken where another does") {
  // -F41 is the circuit's own breaker, of which nothing is said; -Q3 isolates the whole board.
  const std::string text = flat(isolated(sample_text("terrace"), "-F41"));
  CHECK(has(text, "-Q3 open, in +A3 Board, backed up: holds off supply, -T1"));
}

TEST_CASE("isolate: three poles leave the neutral joined, and that is said") {
  const std::string text = flat(isolated(sample_text("farm"), "-T1"));
  CHECK(has(text, "N: -F21 does not open it; treat it as live"));
}

TEST_CASE("steps: a site without 'off' has one made for it, and is told so") {
  const std::string yaml = with(sample_text("farm"), "  off: {-Q1: 0, -Q5: open}\n", "");
  const StepsFound found = steps(yaml, {.from = "off", .to = "grid"});
  CHECK(found.ready);
  CHECK(has(flat(found.text), "the file names no state 'off': taken as everything open"));
  CHECK(has(found.text, "Close -Q10"));
}

TEST_CASE("steps: who moves a changeover is asked for where the file does not say") {
  const std::string yaml = with(sample_text("farm"), "100 A 3P by hand isolating lockable",
                                "100 A 3P isolating lockable");
  const StepsFound found = steps(yaml, {.from = "off", .to = "grid"});
  CHECK_FALSE(found.ready);
  CHECK(has(flat(found.text), "who moves -Q1 is not said: write 'by hand' or 'by controller'"));
}

TEST_CASE("steps: where there is no safe way the nearest step and its hazard are told") {
  const std::string yaml = text_of(source_folder() + "/samples/faulty/bond-missing-in-island.yaml");
  const StepsFound found = steps(yaml, {.from = "grid", .to = "island"});
  CHECK_FALSE(found.ready);
  CHECK(has(found.text, "NO SAFE SEQUENCE"));
  CHECK(has(flat(found.text),
            "from 'grid': the supply fails would make a live neutral without a "
            "joint to earth"));
}

TEST_CASE("steps: a name that is not known brings the nearest one") {
  const auto found = steps_of_site(site_from(sample_text("terrace")), {.to = "iland"});
  REQUIRE_FALSE(found);
  CHECK(has(found.error().message, "no state 'iland'; did you mean 'island'?"));
  const auto isolated = steps_of_site(site_from(sample_text("terrace")), {.isolate = "-T9"});
  REQUIRE_FALSE(isolated);
  CHECK(has(isolated.error().message, "no element or assembly to isolate '-T9'"));
}

TEST_CASE("steps: two runs give the same bytes") {
  CHECK(steps(sample_text("clinic"), {.all = true}).text ==
        steps(sample_text("clinic"), {.all = true}).text);
}

/// A generator behind a transformer that nothing keeps from the supply.
const std::string through_transformer = R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
generators:
  -G2: {power: 5 kVA, neutral: linked, fixed: yes}
boards:
  +A1: {feed: [supply, -Q1 contactor 63 A 2P]}
chains:
  - [-G2, -F9 C20 2P, -T9 transformer 10 kVA 2P, -W9 3×6 mm² 4 m, A1]
states:
  grid: {}
)";

TEST_CASE("procedures: none are given where a transformer hands voltage on") {
  const StepsFound dead = steps(through_transformer, {.from = "grid", .isolate = "+A1"});
  CHECK_FALSE(dead.ready);
  CHECK(has(dead.text, "NOT DECIDED"));
  CHECK(has(flat(dead.text), "voltage passes -T9 both ways"));
  CHECK_FALSE(has(dead.text, "No step is needed"));
  CHECK_FALSE(steps(through_transformer, {.from = "grid", .to = "off"}).ready);
}

}  // namespace
}  // namespace linewright::tests
