#include "figures/cable_data.hpp"

#include <string_view>

#include <fmt/core.h>

#include "electrical/resistance.hpp"
#include "units/print.hpp"

namespace linewright::figures {
namespace {

using electrical::Insulation;
using electrical::Material;

/// None where nothing or something is said that the tables do not have.
std::optional<Insulation> insulation_of(const site::Cable& cable) {
  if (cable.insulation == "PVC") return Insulation::pvc_70;
  if (cable.insulation == "XLPE" || cable.insulation == "EPR") return Insulation::xlpe_90;
  return std::nullopt;
}

Material material_of(const site::Cable& cable) {
  return cable.material == "Al" ? Material::aluminium : Material::copper;
}

/// "3×35 + 1×16 mm²": the size of the smaller core is not kept, only that there is one.
bool has_smaller_core(const site::Cable& cable) {
  const std::size_t plus = cable.written.find('+');
  if (plus == std::string::npos) return false;
  return std::string_view(cable.written).substr(plus).find("PE") == std::string_view::npos;
}

/// Names insulation as missing, or says that the tables do not have it.
template <class Value>
void need_insulation(const site::Cable& cable, const std::string& name, OfCable<Value>& into) {
  if (cable.insulation.empty())
    into.missing.push_back({"insulation", name});
  else if (!insulation_of(cable))
    into.why_not = fmt::format("the tables have no {} insulation", cable.insulation);
}

template <class Value>
bool lacks(const OfCable<Value>& result) {
  return !result.missing.empty() || !result.why_not.empty();
}

}  // namespace

OfCable<electrical::Impedance> service_impedance(const site::Run& run) {
  OfCable<electrical::Impedance> result;
  if (!run.cable) return result;
  const site::Cable& cable = *run.cable;
  if (!cable.length) result.missing.push_back({"length", run.designation});
  if (!cable.cross_section) result.missing.push_back({"size", run.designation});
  if (has_smaller_core(cable)) result.why_not = "the smaller core is not followed";
  const std::optional<Insulation> insulation = insulation_of(cable);
  need_insulation(cable, run.designation, result);
  if (lacks(result) || !insulation || !cable.length || !cable.cross_section) return result;
  const auto r20 = electrical::resistance_at_20(
      material_of(cable), electrical::ConductorClass::class_2, *cable.cross_section);
  if (!r20) {
    result.why_not = r20.error().message;
    return result;
  }
  const Celsius warm = electrical::service_temperature(*insulation);
  const ResistancePerLength r = electrical::resistance_at(*r20, warm);
  const Length length = *cable.length;
  const electrical::Impedance impedance{r * length, electrical::conventional_reactance * length};
  result.value = impedance;
  result.working =
      fmt::format("R = {:.4g} mΩ/m at {:g} °C × {} = {:.4g} mΩ", r.in(unit::milliohm_per_metre),
                  warm.degrees, length, impedance.re.in(unit::milliohm));
  return result;
}

// The tables need more than the file can say: how warm it is around the cable, and what lies beside
// it. So only what is declared counts.
OfCable<Current> capacity(const site::Run& run) {
  OfCable<Current> result;
  if (!run.cable) return result;
  if (!run.cable->carries) {
    result.missing.push_back({"carries", run.designation});
    return result;
  }
  result.value = *run.cable->carries;
  result.working = fmt::format("Iz = {}, as declared", *run.cable->carries);
  return result;
}

}  // namespace linewright::figures
