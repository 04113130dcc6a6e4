// A show as the console sees it: three lists, fourteen submasters, an output that fails.
#pragma once

#include "runtime/control/view.hpp"

namespace tallow::test {

struct ConsoleView {
    ConsoleView();
    ConsoleView(const ConsoleView&) = delete;
    ConsoleView& operator=(const ConsoleView&) = delete;

    runtime::Standing& show() { return view.progress.show; }

    runtime::Roll roll;
    runtime::View view;  // 42min 19s after the beginning, in the fade of cue 3
};

// Bold text between ‹ and ›, and a line end behind each line.
std::string readable(const std::vector<std::string>& screen);

}  // namespace tallow::test
