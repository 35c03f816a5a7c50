#include "electrical/protective_section.hpp"

#include "electrical/near.hpp"

using namespace linewright;
using namespace linewright::electrical;
using namespace linewright::unit;
using linewright::testing::near;

TEST_CASE("protective conductor: by the lines beside it, each side of each border") {
  for (const auto& [line, pe] :
       {std::pair{1.5, 1.5}, {16.0, 16.0}, {25.0, 16.0}, {35.0, 16.0}, {50.0, 25.0}, {95.0, 47.5}})
    CHECK(near(*protective_section(line * mm2), pe * mm2, 1e-9));
  CHECK(!protective_section(0.0 * mm2));
}

TEST_CASE("protective conductor: apart from its lines, and as PEN") {
  CHECK(*separate_protective_section(Material::copper, MechanicalProtection::given) == 2.5 * mm2);
  CHECK(*separate_protective_section(Material::copper, MechanicalProtection::none) == 4.0 * mm2);
  CHECK(*separate_protective_section(Material::aluminium, MechanicalProtection::given) ==
        16.0 * mm2);
  CHECK(!separate_protective_section(Material::steel, MechanicalProtection::given));
  CHECK(*pen_section(Material::copper) == 10.0 * mm2);
  CHECK(*pen_section(Material::aluminium) == 16.0 * mm2);
  CHECK(!pen_section(Material::steel));
}
