#include "electrical/endurance.hpp"

#include <algorithm>

namespace linewright::electrical {
namespace {

bool share(double value) {
  return value > 0.0 && value <= 1.0;
}

/// What one step does to the charge.
void follow(EnduranceCurve& curve, const Store& store, Energy load, Energy sun) {
  const Energy room = store.window * store.nominal - curve.stored.back();
  const Energy direct = std::min(load, sun);
  const Energy surplus = sun - direct;
  const Energy wanted = load - direct;
  const Energy charged = std::min(room, store.charging * surplus);
  const Energy served = std::min(wanted, store.discharging * curve.stored.back());
  curve.spilled += surplus - charged / store.charging;
  curve.unserved += wanted - served;
  // What was all taken is nothing, despite rounding.
  const Energy left = curve.stored.back() + charged - served / store.discharging;
  curve.stored.push_back(std::max(Energy{}, left));
}

}  // namespace

Result<Energy> usable_energy(const Store& store) {
  if (!(store.nominal.base.si > 0.0)) return fail("an energy must be above 0");
  if (!share(store.window)) return fail("a usable window lies above 0 and up to 1");
  if (!share(store.discharging) || !share(store.charging))
    return fail("an efficiency lies above 0 and up to 1");
  return store.discharging * store.window * store.nominal;
}

Result<Capacity> required_capacity(Energy energy, Voltage voltage, double window, double margin) {
  if (!(energy.base.si > 0.0)) return fail("an energy must be above 0");
  if (!(voltage.si > 0.0)) return fail("a voltage must be above 0");
  if (!share(window)) return fail("a usable window lies above 0 and up to 1");
  if (!(margin > 0.0)) return fail("a margin must be above 0");
  return margin / window * (energy.base / voltage);
}

Result<EnduranceCurve> endurance_curve(const Store& store, const Profile& profile, double share,
                                       std::size_t steps) {
  if (const auto usable = usable_energy(store); !usable) return tl::unexpected(usable.error());
  if (!(profile.step.si > 0.0) || profile.load.empty()) return fail("a profile has no steps");
  if (!profile.sun.empty() && profile.sun.size() != profile.load.size())
    return fail("load and sun have different numbers of steps");
  if (!(share >= 0.0 && share <= 1.0)) return fail("a share of charge lies within 0 and 1");

  EnduranceCurve curve{{share * store.window * store.nominal}, std::nullopt, {}, {}};
  for (std::size_t k = 0; k < steps; ++k) {
    const std::size_t now = k % profile.load.size();
    const ActivePower sun = profile.sun.empty() ? ActivePower{} : profile.sun[now];
    const Energy load = profile.load[now] * profile.step;
    const Energy missing_before = curve.unserved;
    const Energy stored_before = curve.stored.back();
    follow(curve, store, load, sun * profile.step);
    if (!curve.empty_after && curve.unserved > missing_before) {
      const ActivePower net = profile.load[now] - sun;
      const Time within = store.discharging * stored_before / net;
      curve.empty_after = static_cast<double>(k) * profile.step + within;
    }
  }
  return curve;
}

Result<VolumeFlow> fuel_flow(std::span<const FuelPoint> points, double load) {
  for (std::size_t k = 0; k < points.size(); ++k) {
    if (points[k].load == load) return points[k].flow;
    if (k == 0) continue;
    const FuelPoint& low = points[k - 1];
    const FuelPoint& high = points[k];
    if (!(high.load > low.load)) return fail("points of a fuel table must rise with the load");
    if (load > low.load && load < high.load)
      return low.flow + (load - low.load) / (high.load - low.load) * (high.flow - low.flow);
  }
  return fail("the fuel table does not reach this load");
}

}  // namespace linewright::electrical
