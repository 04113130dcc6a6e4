// What commands say on standard error.
#pragma once

#include <memory>
#include <string>

#include "compiler/command/compilation.hpp"
#include "runtime/status.hpp"

namespace tallow::command {

// Prints a failure of the surroundings; returns could_not_run.
int complain(const std::string& why);

// Compiles a show for a command that needs it whole: prints its findings, and gives null, with the exit code
// in `exit`, when it cannot be read or has errors.
std::unique_ptr<Compilation> compile_or_complain(const std::string& path, int& exit,
                                                 const std::string& selection = "");

// Prints all findings of a compilation.
void print_findings(const Compilation& compilation);

}  // namespace tallow::command
