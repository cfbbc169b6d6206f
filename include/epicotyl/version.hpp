// epicotyl: the version, in its one place. CMake and the Python package read it from here.
#ifndef EPICOTYL_VERSION_HPP
#define EPICOTYL_VERSION_HPP

namespace epicotyl {

/// Semantic version of the library.
inline constexpr char const* version = "0.1.0";

}  // namespace epicotyl

#endif
