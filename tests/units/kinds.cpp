#include "units/kinds.hpp"

#include <map>
#include <string>

#include <catch2/catch.hpp>

using namespace linewright::units;

TEST_CASE("kinds: no spelling means two units") {
  std::map<std::string, std::string> owner;
  for (const Kind* kind : all_kinds()) {
    for (const UnitName& unit : kind->units) {
      CAPTURE(unit.printed);
      CHECK(owner.emplace(unit.printed, kind->name).second);
      for (const auto also : unit.also) {
        CAPTURE(also);
        CHECK(owner.emplace(also, kind->name).second);
      }
    }
  }
}

TEST_CASE("kinds: units are listed from small to large and one of them is always printed") {
  for (const Kind* kind : all_kinds()) {
    CAPTURE(kind->name);
    double last = 0.0;
    bool printed_from_nothing = false;
    for (const UnitName& unit : kind->units) {
      CHECK(unit.scale >= last);
      last = unit.scale;
      printed_from_nothing = printed_from_nothing || unit.from == 0.0;
    }
    CHECK(printed_from_nothing);
  }
}
