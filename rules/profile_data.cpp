#include "rules/profile_data.hpp"

#include <fmt/core.h>

#include "check/embedded.hpp"

namespace linewright::rules {
namespace {

constexpr std::string_view folder = "profiles/";
constexpr std::string_view ending = ".csv";
constexpr std::string_view base = "international";

std::string_view table(std::string_view name) {
  return check::embedded_file(fmt::format("{}{}{}", folder, name, ending));
}

}  // namespace

std::vector<std::string> profile_names() {
  std::vector<std::string> names{std::string(base)};
  for (const check::EmbeddedFile& file : check::embedded_files()) {
    if (!file.name.starts_with(folder) || !file.name.ends_with(ending)) continue;
    const std::string_view name =
        file.name.substr(folder.size(), file.name.size() - folder.size() - ending.size());
    if (name != base) names.emplace_back(name);
  }
  return names;
}

Result<check::Profile> profile(std::string_view name) {
  if (name.empty() || name == base) return check::Profile::create(std::string(base), {table(base)});
  const std::string_view national = table(name);
  if (national.empty()) {
    std::string known;
    for (const std::string& one : profile_names())
      known += (known.empty() ? "" : ", ") + one;
    return fail(fmt::format("no profile '{}'; there are {}", name, known));
  }
  return check::Profile::create(std::string(name), {table(base), national});
}

Result<check::Profile> profile_for(const site::Site& site, std::string_view wished) {
  return profile(wished.empty() ? std::string_view(site.profile) : wished);
}

}  // namespace linewright::rules
