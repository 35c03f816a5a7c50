// Where the tests find the files of the project and the command.
#pragma once

#include <string>

namespace linewright::tests {

/// The top folder of the project's sources, without a slash at its end.
std::string source_folder();

/// The folder of this build, for what a test writes.
std::string build_folder();

/// The built command.
std::string command_path();

/// True when golden files are to be rewritten (`cmake --build … -t approve`), not compared.
bool approving();

}  // namespace linewright::tests
