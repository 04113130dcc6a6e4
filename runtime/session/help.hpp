// The help of a program, for a terminal of 80 columns.
#pragma once

#include <memory>

namespace CLI {
class FormatterBase;
}

namespace tallow::runtime {

// To be given to an app before its commands are added, which take it over.
std::shared_ptr<CLI::FormatterBase> narrow_help();

}  // namespace tallow::runtime
