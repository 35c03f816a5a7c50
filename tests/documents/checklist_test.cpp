// The permit checklist against the drawings of the samples, as a program reads it.
#include "documents/checklist.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include <catch2/catch.hpp>
#include <fmt/core.h>
#include <nlohmann/json.hpp>

#include "linewright.hpp"
#include "support/expected.hpp"
#include "support/paths.hpp"

using namespace linewright;
using namespace linewright::tests;
using nlohmann::json;

namespace {

std::string sample(const std::string& name) {
  return text_of(fmt::format("{}/samples/{}/{}.yaml", source_folder(), name, name));
}

json answers_of(const std::string& yaml) {
  const Checked checked = check_site(yaml, "site.yaml");
  REQUIRE(checked.mistakes.empty());
  const Result<ChecklistFound> found =
      checklist_of_site(*checked.site, checked.report, {}, ChecklistFormat::json);
  REQUIRE(found);
  json items = json::parse(found->text).at("items");
  const bool any_missing =
      std::ranges::any_of(items, [](const json& item) { return item.at("standing") == "missing"; });
  CHECK(found->complete == !any_missing);
  return items;
}

std::set<int> standing(const json& answers, const std::string& how) {
  std::set<int> numbers;
  for (const json& answer : answers)
    if (answer.at("standing") == how) numbers.insert(answer.at("number").get<int>());
  return numbers;
}

std::set<std::string> keys_of(const json& answers, int number) {
  std::set<std::string> keys;
  for (const json& gap : answers.at(static_cast<std::size_t>(number - 1)).at("missing"))
    keys.insert(gap.at("key").get<std::string>());
  return keys;
}

std::string without(std::string yaml, const std::string& words, const std::string& instead = "") {
  INFO("looking for " << words);
  REQUIRE(yaml.find(words) != std::string::npos);
  for (std::size_t at = yaml.find(words); at != std::string::npos; at = yaml.find(words, at)) {
    yaml.replace(at, words.size(), instead);
    at += instead.size();
  }
  return yaml;
}

/// A key of the file with all that is written below it.
std::string without_block(const std::string& yaml, const std::string& key) {
  const std::size_t begin = yaml.find(key);
  REQUIRE(begin != std::string::npos);
  const std::size_t indent = key.find_first_not_of(' ');
  std::size_t end = yaml.find('\n', begin) + 1;
  while (end < yaml.size()) {
    const std::size_t text = yaml.find_first_not_of(' ', end);
    const bool item = indent == 0 && yaml[text] == '-';
    if (text - end <= indent && !item) break;
    end = yaml.find('\n', end) + 1;
  }
  return yaml.substr(0, begin) + yaml.substr(end);
}

}  // namespace

TEST_CASE("checklist: the list has 77 items with words, who asks and where each belongs") {
  const auto items = documents::checklist_items();
  REQUIRE(items.size() == 77);
  std::set<int> on_site;
  for (std::size_t i = 0; i < items.size(); ++i) {
    CHECK(items[i].number == static_cast<int>(i) + 1);
    CHECK_FALSE(items[i].item.empty());
    CHECK_FALSE(items[i].asked_by.empty());
    CHECK(items[i].where.find_first_not_of("DTNSWPA") == std::string_view::npos);
    if (items[i].site_only) on_site.insert(items[i].number);
  }
  CHECK(on_site == std::set<int>{5, 6, 10, 21, 23, 24, 27, 69, 72, 76});
}

TEST_CASE("checklist: each sample answers each item once, and misses none") {
  const std::string name = GENERATE("tarn-house", "terrace", "clinic", "farm");
  CAPTURE(name);
  const json answers = answers_of(sample(name));
  REQUIRE(answers.size() == 77);
  for (std::size_t i = 0; i < answers.size(); ++i) {
    CAPTURE(answers[i].dump());
    CHECK(answers[i].at("number") == static_cast<int>(i) + 1);
    const std::string how = answers[i].at("standing");
    const std::string where = answers[i].at("where");
    CHECK((how == "elsewhere") == (where.find_first_of("DTN") == std::string::npos));
    CHECK((how == "shown" || how == "on site") == !answers[i].at("places").empty());
    CHECK((how == "missing") == !answers[i].at("missing").empty());
  }
  CHECK(standing(answers, "missing") == std::set<int>{});
  // Signatures, and what is measured, come from a person only.
  CHECK(standing(answers, "on site") == std::set<int>{10, 21, 23});
}

TEST_CASE("checklist: what a site does not have is not asked of it") {
  const json house = answers_of(sample("terrace"));
  // No generator, and one string of PV drives nothing back.
  for (const int number : {36, 37, 56, 57, 67})
    CHECK(standing(house, "not here").count(number) == 1);
  const json farm = answers_of(sample("farm"));
  CHECK(standing(farm, "not here").count(44) == 1);
  CHECK(standing(farm, "shown").count(36) == 1);
}

TEST_CASE("checklist: a key taken out of a sample makes just its items missing, and is named") {
  struct Case {
    std::string words;
    std::set<int> items;
    std::string key;
  };
  const Case one = GENERATE(values<Case>({
      {"  drawing: TH-07-E-001\n", {7}, "site: drawing"},
      {"  date: 2026-11-25\n  status", {9}, "site: date"},
      {"  status: For approval\n", {8}, "site: status"},
      {"  address: 7 Upper Tarn, Sampleton\n", {2}, "site: address"},
      {"  property: Section B, parcel 214\n", {2}, "permit: property"},
      {"  customer: Household at Upper Tarn (invented)\n", {3}, "permit: customer"},
      {"  meter point: SAMPLE 0700 1234\n", {4}, "supply: meter point"},
      {"  contracted demand: 36 kVA\n", {16}, "permit: contracted demand"},
      {"  ownership boundary: -P1\n", {13}, "permit: ownership boundary"},
      {"  export limit: {limit: 9 kW, by: -P1}\n", {49}, "permit: export limit"},
      {"  metering concept: surplus fed in, one two-way meter\n", {66}, "permit: metering concept"},
      {"  conductor: 25 mm²\n", {22}, "earthing: conductor"},
      {"  bonding: {water pipe: 10 mm², heating pipes: 10 mm²}\n", {22}, "earthing: bonding"},
      {", type: 2 rods of 1.5 m", {21}, "earthing: electrodes"},
      {"excitation: permanent magnet, ", {36}, "generators: excitation"},
      {"parallel: never, ", {37}, "generators: parallel"},
      {" dc side: floating,", {32}, "inverters: dc side"},
      {" detects island by: frequency shift,", {55}, "inverters: protection"},
      {" overvoltage: 253 V within 0.2 s,", {54}, "inverters: protection"},
      {" chemistry: LFP,", {33}, "battery: chemistry"},
      {", modules: 6", {29}, "pv: modules"},
      {" neutral simultaneous", {43}, "devices: neutral"},
      {"    indicator: yes\n", {74}, "boards: indicator"},
      {", load: 1.1 kW", {46, 47}, "circuits: load"},
  }));
  CAPTURE(one.words);
  std::string instead;
  if (one.words.ends_with("  status")) instead = "  status";
  const json answers = answers_of(without(sample("tarn-house"), one.words, instead));
  CHECK(standing(answers, "missing") == one.items);
  for (const int number : one.items)
    CHECK(keys_of(answers, number).count(one.key) == 1);
}

TEST_CASE("checklist: a key with more below it, taken out, makes just its item missing") {
  struct Case {
    std::string key;
    std::string named;
    int item;
  };
  const Case one = GENERATE(values<Case>({
      {"  operation:\n", "permit: operation", 48},
      {"  clearances:\n", "permit: clearances", 71},
      {"  standards:", "permit: standards", 11},
      {"  isolation point:", "permit: isolation point", 51},
      {"  emergency off:", "permit: emergency off", 50},
      {"  upstream coordination:", "permit: upstream coordination", 59},
      {"  revisions:\n", "site: revisions", 8},
      {"signals:\n", "signals", 68},
  }));
  CAPTURE(one.key);
  const json answers = answers_of(without_block(sample("tarn-house"), one.key));
  CHECK(standing(answers, "missing") == std::set<int>{one.item});
  CHECK(keys_of(answers, one.item) == std::set<std::string>{one.named});
}

TEST_CASE(
    "checklist: numbers of installer and designer that nobody gave become spaces to fill in") {
  const std::string yaml = without(without(sample("tarn-house"), ", registration: SAMPLE-E-2041"),
                                   "  designer licence: SAMPLE-D-077\n");
  const json answers = answers_of(yaml);
  CHECK(standing(answers, "on site") == std::set<int>{5, 6, 10, 21, 23});
  CHECK(standing(answers, "missing") == std::set<int>{});
}

TEST_CASE("checklist: a value measured on site closes its space") {
  const json answers = answers_of(without(sample("tarn-house"), "type: 2 rods of 1.5 m",
                                          "type: 2 rods of 1.5 m, measured: 31 ohm"));
  CHECK(standing(answers, "shown").count(21) == 1);
}

TEST_CASE("checklist: more backed-up load than the sources give asks for shedding") {
  // 30 kW against the 15 kVA of the generator.
  const json answers = answers_of(without(sample("tarn-house"), "load: 0.5 kW", "load: 30 kW"));
  CHECK(standing(answers, "missing") == std::set<int>{47});
  CHECK(keys_of(answers, 47) == std::set<std::string>{"circuits: shed in island"});
}

TEST_CASE("checklist: what no sheet shows is missing though the file gives it") {
  const std::string yaml = sample("tarn-house");
  const Checked checked = check_site(yaml, "site.yaml");
  const network::Network network = network::build(*checked.site);
  std::vector<network::StateView> states;
  for (const site::State& state : checked.site->states)
    states.push_back(network::view(network, *checked.site, state));
  const auto answers = documents::checklist({*checked.site, network, states, checked.report}, {});
  for (const documents::ChecklistAnswer& answer : answers) {
    INFO(answer.item->number);
    CHECK(answer.standing != documents::Standing::shown);
    CHECK(answer.standing != documents::Standing::on_site);
  }
  CHECK(answers[3].standing == documents::Standing::missing);
  CHECK(answers[3].remark.find("SAMPLE 0700 1234") != std::string::npos);
}

TEST_CASE("checklist: a bare site is told every key that it lacks") {
  const json answers = answers_of(
      "supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}\n"
      "boards: {+A1: {feed: [supply, -Q1 switch-disconnector 63 A 2P], circuits: [{name: Sockets, "
      "device: B16 1P+N 30 mA type A, cable: 3×2.5 mm² 12 m, load: 1 kW, use: sockets}]}}\n");
  const std::set<int> missing = standing(answers, "missing");
  for (const int number : {1, 2, 3, 4, 7, 8, 9, 11, 13, 15, 16, 22, 23, 45, 48, 50, 51, 52, 59, 65})
    CHECK(missing.count(number) == 1);
  for (const int number : {25, 29, 33, 36, 41, 46, 49, 54, 57, 74})
    CHECK(standing(answers, "not here").count(number) == 1);
  for (const json& answer : answers) {
    if (answer.at("standing") != "missing") continue;
    for (const json& gap : answer.at("missing"))
      CHECK_FALSE(gap.at("key").get<std::string>().empty());
  }
}

TEST_CASE("checklist: as text the missing come first, each once, no line wider than 100") {
  const Checked checked =
      check_site(without(sample("farm"), "  contracted demand: 200 A\n"), "site.yaml");
  const Result<ChecklistFound> found =
      checklist_of_site(*checked.site, checked.report, {}, ChecklistFormat::text);
  REQUIRE(found);
  const std::string& text = found->text;
  CHECK(text.find("1 missing") != std::string::npos);
  CHECK(text.find("\nMissing (1)\n") < text.find("\nOn the drawing"));
  CHECK(text.find("contracted demand: 36 kVA") != std::string::npos);
  std::map<int, int> seen;
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    const auto bytes = std::ranges::count_if(
        line, [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; });
    CHECK(bytes <= 100);
    const bool number = line.size() > 5 && line[2] >= '0' && line[2] <= '9' && line[3] == ' ';
    if (number) ++seen[std::stoi(line.substr(0, 3))];
  }
  CHECK(seen.size() == 77);
  CHECK(std::ranges::all_of(seen, [](const auto& each) { return each.second == 1; }));
}
