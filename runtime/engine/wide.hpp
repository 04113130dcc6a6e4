// 128-bit integers, which g++ and clang have on every 64-bit machine, outside ISO C++.
#pragma once

namespace tallow::runtime {

__extension__ typedef __int128 Wide;
__extension__ typedef unsigned __int128 UnsignedWide;

}  // namespace tallow::runtime
