// The whole library, compiled with this source.
#include <epicotyl/impl/src.hpp>
