// A checked site with what was worked out of it, shared by what checks and what draws.
#pragma once

#include <memory>
#include <string>

#include "check/analysed_site.hpp"
#include "check/profile.hpp"
#include "linewright.hpp"
#include "site/site.hpp"
#include "units/result.hpp"

namespace linewright {

/// Site, profile and what follows from both; stays where it is, since `analysed` refers to the
/// rest.
struct Analysis {
  std::shared_ptr<const site::Site> site;
  std::string wished;  ///< profile in place of the file's own, or empty
  check::Profile profile;
  check::AnalysedSite analysed;

  Analysis(std::shared_ptr<const site::Site> the_site, std::string wished_profile,
           check::Profile its_profile)
      : site(std::move(the_site)),
        wished(std::move(wished_profile)),
        profile(std::move(its_profile)),
        analysed(check::analyse(*site, profile)) {}
  Analysis(const Analysis&) = delete;
  Analysis& operator=(const Analysis&) = delete;
};

/// Fails if there is no such profile.
Result<std::shared_ptr<const Analysis>> analysis_of(std::shared_ptr<const site::Site> site,
                                                    const std::string& wished_profile);

}  // namespace linewright
