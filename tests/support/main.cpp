// Catch2 2.13 makes its main() here; Catch2 3 brings its own.
#if !__has_include(<catch2/catch_all.hpp>)
#define CATCH_CONFIG_MAIN
#include <catch2/catch.hpp>
#endif
