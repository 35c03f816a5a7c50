// Every kind of mistake, with its place: line, column and length of what is marked.
#include <string>
#include <string_view>

#include <catch2/catch.hpp>

#include "input/read.hpp"
#include "support/site_from.hpp"

using linewright::Mistake;
using linewright::input::read_site;
using linewright::tests::mistakes_in;

namespace {

constexpr std::string_view sound = R"(supply:
  system: 3/N/PE 230/400 V 50 Hz
  earthing: TN-S
  fuse: 63 A gG
boards:
  +A1:
    feed: [supply, 5×16 mm² Cu 4 m, -Q1 switch-disconnector 63 A 4P]
    circuits:
      - {id: -F1, name: Lights, device: B10 1P+N 30 mA type A, cable: 3×1.5 mm² 24 m, load: 0.2 kW}
      - {id: -F2, name: Pump, device: C16 3P, cable: 4×2.5 mm² 24 m, load: 3 kW, use: motor}
)";

// The sound file with one change.
std::string with(std::string_view old, std::string_view replacement) {
  std::string text(sound);
  const std::size_t at = text.find(old);
  REQUIRE(at != std::string::npos);
  return text.replace(at, old.size(), replacement);
}

std::string mistakes_with(std::string_view old, std::string_view replacement) {
  return mistakes_in(with(old, replacement));
}

}  // namespace

TEST_CASE("mistakes: the file that the others are changed from has none") {
  CHECK(mistakes_in(sound) == "");
}

TEST_CASE("mistakes: unknown keys and words come with the nearest known ones") {
  CHECK(mistakes_with("load: 3", "laod: 3") ==
        "10:70+4 a circuit has no key 'laod' | did you mean 'load'?\n");
  CHECK(mistakes_with("motor", "moter") ==
        "10:87+5 'moter' is not a word for this key | did you mean 'motor'?\n");
  CHECK(mistakes_with("C16 3P", "C16 3P isolatng") ==
        "10:46+8 'isolatng' says nothing about a device | did you mean 'isolating' or "
        "'isolator'?\n");
  CHECK(
      mistakes_with("type A", "typ A") ==
      "9:56+3 'typ' says nothing about a device | did you mean 'type AC', 'type A' or 'type F'?\n");
  CHECK(mistakes_with("16 mm² Cu", "16 mm² Cupper") ==
        "7:29+6 'Cupper' says nothing about a cable | did you mean 'copper'?\n");
  CHECK(mistakes_with("earthing: TN-S", "earthing: TNX") ==
        "3:13+3 'TNX' is not a word for this key | expected 'TN-S', 'TN-C-S', 'TT', "
        "'IT', 'MEN' or 'PME'\n");
}

TEST_CASE("mistakes: columns count characters, not bytes") {
  CHECK(mistakes_with("name: Lights", "name: Lücht für ½ Küche") == "");
  CHECK(mistakes_with("name: Lights, device: B10 1P+N", "name: Lücht ½, device: B10 1P+M") ==
        "9:46+4 '1P+M' says nothing about a device | did you mean '1P+N'?\n");
}

TEST_CASE("mistakes: blanks that do not break a line are blanks") {
  CHECK(mistakes_with("30 mA", "30\u00a0mA") == "");
  CHECK(mistakes_with("24 m, load: 3", "24\u202fm, load: 3") == "");
}

TEST_CASE("mistakes: duplicate keys and designations name both places") {
  const auto key = read_site(with("    feed:", "    busbar: 63 A\n    busbar: 63 A\n    feed:"));
  REQUIRE(key.mistakes.size() == 1);
  CHECK(key.mistakes[0].message == "key 'busbar' is given twice");
  CHECK(key.mistakes[0].where == linewright::Place{8, 5, 6});
  REQUIRE(key.mistakes[0].notes.size() == 1);
  CHECK(key.mistakes[0].notes[0].where == linewright::Place{7, 5, 6});

  const auto device = read_site(with("id: -F2", "id: -F1"));
  REQUIRE(device.mistakes.size() == 1);
  CHECK(device.mistakes[0].message == "designation '-F1' is given twice");
  CHECK(device.mistakes[0].where == linewright::Place{10, 14, 3});
  REQUIRE(device.mistakes[0].notes.size() == 1);
  CHECK(device.mistakes[0].notes[0].where == linewright::Place{9, 14, 3});

  CHECK(mistakes_with("4×2.5", "-Q1 4×2.5") ==
        "10:54+3 designation '-Q1' is given twice | give one of them another number\n");
  CHECK(mistakes_with("    feed:", "    Busbar: 63 A\n    busbar: 63 A\n    feed:") ==
        "8:5+6 key 'busbar' is given twice | keep one of the two\n");
}

TEST_CASE("mistakes: values without unit, of a wrong dimension, or impossible") {
  CHECK(
      mistakes_with("3 kW", "3") ==
      "10:76+1 '3': the unit is missing | expected an active power such as '5 kW' or '4.9 kWp'\n");
  CHECK(mistakes_with("24 m, load: 3", "24, load: 3") ==
        "10:64+2 '24': the unit is missing | expected a length such as '14 m'\n");
  CHECK(mistakes_with("24 m, load: 3", "24 A, load: 3") ==
        "10:64+4 '24 A': 'A' is a current | expected a length such as '14 m'\n");
  CHECK(mistakes_with("3 kW", "3 kVA") ==
        "10:76+5 '3 kVA': 'kVA' is an apparent power | expected an active power such as '5 kW' or "
        "'4.9 kWp'\n");
  CHECK(mistakes_with("3 kW", "-3 kW") ==
        "10:76+5 '-3 kW' is negative | expected an active power such as '5 kW' or '4.9 kWp'\n");
  CHECK(mistakes_with("use: motor", "power factor: 1.2") ==
        "10:96+3 power factor 1.2 is outside 0 to 1 | expected a power factor such as '0.95'\n");
  CHECK(mistakes_with("use: motor", "diversity: 130 %") ==
        "10:93+5 '130 %' is outside 0 to 1 | expected a share such as '90 %' or '0.9'\n");
  CHECK(mistakes_with("63 A gG", "63 V gG") ==
        "4:9+7 a voltage on something that has none | delete it, or mend the unit: 'A', 'mA' or "
        "'kA'\n");
  CHECK(mistakes_with("5×16 mm²", "5×16") ==
        "7:20+4 '5×16 Cu 4 m' has a size without unit | expected a cross-section such as '5×6 "
        "mm²'\n");
  CHECK(mistakes_with("230/400", "230/600") ==
        "2:11+22 '230/600': line voltages 2.61 times those to earth | expected 1.73 times, such as "
        "'230/400 V'\n");
}

TEST_CASE("mistakes: numbers that are none, or none that YAML programs agree on") {
  CHECK(
      mistakes_with("3 kW", "nan kW") ==
      "10:76+6 'nan kW' does not begin with a number | expected an active power such as '5 kW' or "
      "'4.9 kWp'\n");
  CHECK(mistakes_with("3 kW", "1e400 kW") ==
        "10:76+8 '1e400 kW' is beyond any real value | expected an active power such as '5 kW' or "
        "'4.9 kWp'\n");
  CHECK(mistakes_with("3 kW", "010 kW") ==
        "10:76+6 '010 kW' has a leading zero, which YAML may read as octal | write a plain decimal "
        "number\n");
  CHECK(mistakes_with("3 kW", "1_000 W") ==
        "10:76+7 '1_000 W' has '_' between its digits | write a plain decimal number\n");
  CHECK(mistakes_with("3 kW", "12:30") ==
        "10:76+5 '12:30' has ':', which YAML may read as sixties | write a plain decimal number\n");
  CHECK(mistakes_with("use: motor", "items: 0x10") ==
        "10:89+4 '0x10' is not a decimal number | write a plain decimal number\n");
  CHECK(mistakes_with("load: 3 kW", "load: 3,5 kW") ==
        "10:76+1 '3': the unit is missing | expected an active power such as '5 kW' or '4.9 kWp'\n"
        "10:78+4 '5 kW' stands where a key belongs | write decimals with a point, such as '0.5 "
        "kW'\n");
}

TEST_CASE("mistakes: words that YAML may read as yes or no") {
  CHECK(mistakes_with("name: Pump", "name: no") ==
        "10:25+2 YAML may read the text 'no' as yes or no | put it in quotes: \"no\"\n");
  CHECK(mistakes_with("name: Pump", "name: \"no\"") == "");
  CHECK(mistakes_with("use: motor", "drive: on") ==
        "10:89+2 'on' is neither 'yes' nor 'no' | write 'yes' or 'no'\n");
  CHECK(mistakes_with("use: motor", "drive: No") == "");
  CHECK(mistakes_with("supply:", "profile: NO\nsupply:") ==
        "1:10+2 'NO' is not a word for this key | did you mean 'NZ'?\n");
}

TEST_CASE("mistakes: references to what is not there") {
  CHECK(mistakes_with("[supply,", "[A9,") ==
        "7:12+2 there is no place 'A9' | did you mean 'A1'?\n");
  CHECK(mistakes_with("[supply,", "[suply,") ==
        "7:12+5 there is no place 'suply' | did you mean 'supply'?\n");
  CHECK(mistakes_with("boards:", "states: {works: {-Q7: open, running: [-G1]}}\nboards:") ==
        "5:18+3 there is no element '-Q7' | did you mean '-Q1'?\n"
        "5:39+3 there is no element '-G1' | did you mean '-Q1', '-F1' or '-E1'?\n");
  CHECK(mistakes_with("use: motor", "neutral from: -F9") ==
        "10:96+3 there is no element '-F9' | did you mean '-F0', '-F1' or '-F2'?\n");
  CHECK(mistakes_with("boards:", "earthing: {links: {-X5: {at: -WB7}}}\nboards:") ==
        "5:30+4 there is no place '-WB7' | did you mean '-WB1'?\n");
  CHECK(mistakes_with("boards:", "inverters: {-T1: {use: big}}\nboards:") ==
        "5:24+3 there is no type 'big' | describe it under 'types'\n");
}

TEST_CASE("mistakes: wires between terminals and positions that do not exist") {
  CHECK(mistakes_with("[supply,", "[-Q1:3,") ==
        "7:12+5 '-Q1' has no terminal '3' | it has '-Q1:1', '-Q1:2'\n");
  CHECK(mistakes_with("boards:", "states: {grid: {-Q1: II}}\nboards:") ==
        "5:22+2 'II' is no position of '-Q1' | expected 'open' or 'closed'\n");
  CHECK(mistakes_with("boards:", "states: {grid: {-F0:bond: open}}\nboards:") ==
        "5:17+8 '-F0:bond' has no position of its own | name a switching device, or "
        "'-T1:transfer' or '-T1:bond'\n");
  CHECK(
      mistakes_with("Cu 4 m,", "Cu 4 m, 5×16 mm²,") ==
      "7:37+8 two cables follow each other | put the place or device at its upper end before it\n");
}

TEST_CASE("mistakes: conductors that do not match") {
  CHECK(
      mistakes_with("B10 1P+N", "B10 4P") ==
      "9:14+3 line poles of '-F1': 3, lines in its wires: 1 | match its poles and the cores of its "
      "cable\n");
  CHECK(mistakes_with("C16 3P, cable: 4×2.5 mm²", "C16 4P, cable: 4×2.5 mm² (L1 L2 L3 PE)") == "");
  CHECK(mistakes_with("3×1.5 mm²", "3×1.5 mm² (L1 PE)") ==
        "9:25+6 no N reaches the load 'Lights' | give it a cable with N, such as '3×2.5 mm²'\n");
  CHECK(
      mistakes_with("5×16 mm²", "4×16 mm² (L1 L2 L3 PE)") ==
      "7:51+3 '-Q1' opens N, but no N reaches it | bring N with its cable or take a device without "
      "N pole\n");
  CHECK(mistakes_with("type A, cable: 3×1.5 mm²", "type A, phase: L2, cable: 3×1.5 mm²") == "");
  CHECK(
      mistakes_in("supply: {system: 1/N/PE 230 V}\nboards: {+A1: {feed: supply, circuits: [{name: "
                  "Lamp, phase: L2, device: B10 1P+N}]}}\n") ==
      "2:41+1 phase L2 does not reach '-WB1' | it has L1\n");
}

TEST_CASE("mistakes: what follows from a mistake above is not reported again") {
  // Without the board's N, neither -F1 nor the lights below it have one.
  const std::string found = mistakes_with("5×16 mm²", "4×16 mm² (L1 L2 L3 PE)");
  CHECK(std::count(found.begin(), found.end(), '\n') == 1);
}

TEST_CASE("mistakes: boards that feed each other, or that nothing feeds") {
  CHECK(mistakes_with("boards:\n", "boards:\n  +A5: {feed: [A6]}\n  +A6: {feed: [A5]}\n") ==
        "6:3+3 '+A5' feeds '+A6', and is fed by it | take one of the feeds away\n");
  CHECK(mistakes_with("boards:\n", "boards:\n  +A5: {name: Spare}\n") ==
        "6:3+3 nothing feeds '+A5' | add 'feed: [place, cable]' to it\n");
}

TEST_CASE("mistakes: all of them in one pass") {
  std::string text = with("3 kW", "3");
  text.replace(text.find("earthing"), 8, "earthin");
  text.replace(text.find("use: motor"), 10, "use: moter");
  CHECK(mistakes_in(text) ==
        "3:3+7 'supply' has no key 'earthin' | did you mean 'earthing'?\n"
        "10:76+1 '3': the unit is missing | expected an active power such as '5 kW' or '4.9 kWp'\n"
        "10:84+5 'moter' is not a word for this key | did you mean 'motor'?\n");
}

TEST_CASE("mistakes: messages keep to twelve words, and mends say something") {
  for (const std::string& text :
       {with("3 kW", "010 kW"), with("name: Pump", "name: no"), with("63 A gG", "63 V gG"),
        with("230/400", "230/600"), with("boards:", "earthing: {links: {-X5: {at: -F0}}}\nboards:"),
        std::string("a: &b 1"), std::string("supply: {}\n---\n"), std::string("\t- x")}) {
    for (const Mistake& mistake : read_site(text).mistakes) {
      INFO(mistake.message);
      CHECK(std::count(mistake.message.begin(), mistake.message.end(), ' ') < 12);
      CHECK(mistake.message.back() != '.');
      CHECK_FALSE(mistake.mend.empty());
      CHECK(mistake.where.known());
    }
  }
}
