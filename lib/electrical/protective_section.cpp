#include "electrical/protective_section.hpp"

namespace linewright::electrical {

Result<Area> protective_section(Area line) {
  if (!(line.si > 0.0)) return fail("a cross-section must be above 0");
  const Area sixteen = 16.0 * unit::mm2;
  if (line <= (1.0 + 1e-9) * sixteen) return line;
  return line <= (1.0 + 1e-9) * 35.0 * unit::mm2 ? sixteen : 0.5 * line;
}

Result<Area> separate_protective_section(Material material, MechanicalProtection protection) {
  if (material == Material::steel) return fail("543.1.3 has no figure for steel");
  if (material == Material::aluminium) return 16.0 * unit::mm2;
  return (protection == MechanicalProtection::given ? 2.5 : 4.0) * unit::mm2;
}

Result<Area> pen_section(Material material) {
  if (material == Material::steel) return fail("a PEN conductor is copper or aluminium");
  return (material == Material::copper ? 10.0 : 16.0) * unit::mm2;
}

}  // namespace linewright::electrical
