// One include for Catch2 2.13 (as Debian 12 ships it) and Catch2 3.
#ifndef EPICOTYL_TESTS_CATCH_HPP
#define EPICOTYL_TESTS_CATCH_HPP

#if __has_include(<catch2/catch_all.hpp>)
#include <catch2/catch_all.hpp>
using Catch::Approx;
#else
#include <catch2/catch.hpp>
#endif

#endif
