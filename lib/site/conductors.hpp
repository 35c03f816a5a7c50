// The conductors of a circuit and sets of them.
#pragma once

#include <array>
#include <cstdint>
#include <initializer_list>
#include <string>
#include <string_view>

namespace linewright::site {

/// One conductor by its mark (IEC 60445). A set of signal cores is never part of a power run.
enum class Conductor : std::uint8_t { l1, l2, l3, n, pe, pen, dc_plus, dc_minus };

inline constexpr std::array<Conductor, 8> all_conductors{
    Conductor::l1, Conductor::l2,  Conductor::l3,      Conductor::n,
    Conductor::pe, Conductor::pen, Conductor::dc_plus, Conductor::dc_minus};

/// The mark as it is printed: "L1", "N", "PE", "DC+".
std::string_view mark(Conductor conductor);

/// A set of conductors.
class Conductors {
 public:
  constexpr Conductors() = default;
  constexpr Conductors(std::initializer_list<Conductor> list) {
    for (const Conductor c : list)
      bits_ = static_cast<std::uint8_t>(bits_ | bit(c));
  }

  constexpr bool has(Conductor c) const { return (bits_ & bit(c)) != 0; }
  constexpr bool empty() const { return bits_ == 0; }
  constexpr void add(Conductor c) { bits_ = static_cast<std::uint8_t>(bits_ | bit(c)); }
  constexpr void remove(Conductor c) { bits_ = static_cast<std::uint8_t>(bits_ & ~bit(c)); }
  constexpr int count() const {
    int n = 0;
    for (const Conductor c : all_conductors)
      n += has(c) ? 1 : 0;
    return n;
  }
  /// Those in both sets.
  friend constexpr Conductors operator&(Conductors a, Conductors b) {
    return from_bits(static_cast<std::uint8_t>(a.bits_ & b.bits_));
  }
  /// Those in either set.
  friend constexpr Conductors operator|(Conductors a, Conductors b) {
    return from_bits(static_cast<std::uint8_t>(a.bits_ | b.bits_));
  }
  /// Those in `a` but not in `b`.
  friend constexpr Conductors operator-(Conductors a, Conductors b) {
    return from_bits(static_cast<std::uint8_t>(a.bits_ & ~b.bits_));
  }
  friend constexpr bool operator==(Conductors, Conductors) = default;

 private:
  static constexpr std::uint8_t bit(Conductor c) {
    return static_cast<std::uint8_t>(1U << static_cast<unsigned>(c));
  }
  static constexpr Conductors from_bits(std::uint8_t bits) {
    Conductors set;
    set.bits_ = bits;
    return set;
  }
  std::uint8_t bits_ = 0;
};

inline constexpr Conductors lines{Conductor::l1, Conductor::l2, Conductor::l3};
inline constexpr Conductors line_and_neutral = lines | Conductors{Conductor::n};
inline constexpr Conductors earths{Conductor::pe, Conductor::pen};
inline constexpr Conductors direct_current{Conductor::dc_plus, Conductor::dc_minus};

/// "L1 L2 L3 N PE": the marks in standard order, a space between.
std::string words(Conductors conductors);

}  // namespace linewright::site
