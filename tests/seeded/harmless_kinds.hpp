// Edits of a sound or faulty site that change nothing in it, or add what is sound: no verdict may
// change but for names.
#pragma once

#include <functional>
#include <map>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "site/site.hpp"

namespace linewright::tests {

/// New name to the one that it had.
using Renamed = std::map<std::string, std::string>;

/// Takes one edited file, with the place of the edit.
using PutText = std::function<void(std::string place, std::string yaml, Renamed renamed)>;
/// Takes one edited site, with the place of the edit.
using PutSite = std::function<void(std::string place, site::Site edited)>;

/// Whether an edit says the same otherwise, or brings something sound into the site.
enum class Adds { nothing, something };

/// One kind of edit of the text of a file, or of the site that was read; the other is null.
struct HarmlessKind {
  std::string_view name;
  Adds adds = Adds::nothing;
  void (*text)(const std::string& yaml, const PutText& put) = nullptr;
  void (*site)(const site::Site& site, const PutSite& put) = nullptr;
};

std::span<const HarmlessKind> other_words();  ///< the same words, units and signs otherwise
std::span<const HarmlessKind> other_order();  ///< the same entries in another order or form
std::span<const HarmlessKind> other_names();  ///< other designations and names
std::span<const HarmlessKind> more_of_it();   ///< sound things added, safe margins widened

/// All of them.
std::vector<HarmlessKind> all_harmless_kinds();

}  // namespace linewright::tests
