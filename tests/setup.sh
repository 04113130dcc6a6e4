# Sourced by examples/run and tests/run: installs what a bare Debian 12 lacks, and builds.
set -euo pipefail

root=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
cd "$root"

say() { printf '\n== %s\n' "$*"; }

# Installs those of the named Debian packages that are missing.
need() {
    local missing=() package
    for package in "$@"; do
        dpkg-query -W -f='${Status}' "$package" 2>/dev/null | grep -q 'ok installed' || missing+=("$package")
    done
    [ ${#missing[@]} -eq 0 ] && return
    local as_root=()
    if [ "$(id -u)" -ne 0 ]; then
        command -v sudo >/dev/null || { echo "missing packages: ${missing[*]}; run this as root, or install sudo" >&2; exit 2; }
        as_root=(sudo)
    fi
    say "install ${missing[*]}"
    "${as_root[@]}" apt-get update -q
    "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get install -qy --no-install-recommends "${missing[@]}"
}

# build FOLDER "TARGETS" [CMAKE OPTIONS]: configures and builds below build/.
build() {
    local folder=build/$1 targets=$2
    shift 2
    say "build $folder"
    cmake -S . -B "$folder" -G Ninja "$@" >"$folder.log" 2>&1 || { cat "$folder.log" >&2; exit 2; }
    # shellcheck disable=SC2086
    cmake --build "$folder" --target $targets
}

need cmake ninja-build g++ pkg-config libfmt-dev nlohmann-json3-dev catch2 libcli11-dev libzstd-dev libutf8proc-dev tao-pegtl-dev libcairo2-dev libpango1.0-dev liblo-dev librtmidi-dev
mkdir -p build
