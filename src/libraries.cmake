# What boxroom is linked with, but for what draws (VTK) and OpenMP; tests/sanitized wants the same.
find_package(Eigen3 3.4 REQUIRED)
find_package(HDF5 REQUIRED COMPONENTS C)
find_package(OpenSSL 3 REQUIRED COMPONENTS Crypto)
find_package(tomlplusplus REQUIRED)
find_package(CLI11 REQUIRED)
find_package(fmt REQUIRED)
find_package(nlohmann_json REQUIRED)
find_package(PkgConfig REQUIRED)
pkg_check_modules(SNDFILE REQUIRED IMPORTED_TARGET sndfile)
find_path(KISSFFT_INCLUDE_DIR kissfft/kissfft.hh REQUIRED)  # its C++ header, for doubles: nothing to link
