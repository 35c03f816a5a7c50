// Whether the rules find a mistake that was seeded into a sound site.
#pragma once

#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "check/profile.hpp"
#include "check/rule.hpp"
#include "site/site.hpp"

namespace linewright::tests {

/// Knows what the rules say of the sound site, and asks them of wrong ones.
class Finder {
 public:
  explicit Finder(const site::Site& sound);

  /// The first rule that says something new of a wrong site: a danger, a breach, or an open point.
  /// Empty if none does. The rule that spoke last is asked first, so the name is one of several.
  std::string_view found_by(const site::Site& wrong);

 private:
  check::Profile profile_;
  std::vector<const check::Rule*> rules_;
  std::set<std::string> said_of_the_sound_;
};

/// One of the sound samples, read; `name` is that of its folder.
site::Site sound_sample(std::string_view name);

inline constexpr std::string_view sound_samples[] = {"tarn-house", "terrace", "clinic", "farm"};

}  // namespace linewright::tests
