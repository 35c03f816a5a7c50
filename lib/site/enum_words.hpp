// The words for the choices of the model, as people compare them.
#pragma once

#include <string_view>

#include "site/site.hpp"

namespace linewright::site {

std::string_view word(Assembly::Kind kind);
std::string_view word(BondContact contact);
std::string_view word(DcEarthing earthing);
std::string_view word(DeviceKind kind);
std::string_view word(Earthing earthing);
std::string_view word(FeedDirection direction);
std::string_view word(Forming forming);
std::string_view word(GivesBack gives);
std::string_view word(InsulationMonitor monitor);
std::string_view word(InterlockMeans means);
std::string_view word(IslandCharging charging);
std::string_view word(IslandNeutral neutral);
std::string_view word(LossOfMeter loss);
std::string_view word(NeutralLink link);
std::string_view word(NeutralTiming timing);
std::string_view word(Operation operation);
std::string_view word(PaperSize size);
std::string_view word(PaperTurn turn);
std::string_view word(ParallelRun run);
std::string_view word(PenDetection detection);
std::string_view word(ResidualDelay delay);
std::string_view word(ResidualType type);
std::string_view word(Rotation rotation);
std::string_view word(Separation separation);
std::string_view word(Service service);
std::string_view word(StateKind kind);
std::string_view word(Use use);
std::string_view word(Winding winding);

}  // namespace linewright::site
