#include "line/water.h"

#include <doctest/doctest.h>

#include <limits>

#include "quantity/units.h"
#include "support/near.h"

using namespace coilbook;

namespace {

Temperature celsius(double t) {
    return Temperature::from_celsius(t);
}
// EOS-80's tables are on the temperature scale of 1968: t68 = 1.00024 t90.
Temperature celsius_of_1968(double t) {
    return Temperature::from_celsius(t / 1.00024);
}

Water fresh(Temperature t) {
    return water_at(t).value();
}
Water salt(Temperature t, double practical_salinity) {
    return water_at(t, Salinity::from_practical(practical_salinity).value()).value();
}

constexpr DynamicViscosity millipascal_second = pascal_second / 1000.0;
constexpr DynamicViscosity micropascal_second = pascal_second / 1e6;

}  // namespace

TEST_SUITE("Water") {
    // By hand, from the viscosity formula at 300 K, where every power is 1: 280.68 + 511.45
    // + 61.131
    // + 0.45903 = 853.72003 µPa s.
    TEST_CASE("a worked example: at 26.85 °C water has 0.85372 mPa s") {
        CHECK(near(fresh(celsius(26.85)).viscosity, 853.72003 * micropascal_second,
                   1e-5 * micropascal_second));
    }

    // By hand, Tanaka's formula at 20 °C: 16.016965² = 256.54317; x 321.797 = 82554.82; 522528.9 x
    // 89.34881 = 46687335; the quotient is 0.00176825; 999.97495 x (1 - 0.00176825) = 998.20675.
    TEST_CASE("a worked example: at 20 °C a cubic metre weighs 998.207 kg") {
        CHECK(near(fresh(celsius(20.0)).density, 998.20675 * kilogram_per_cubic_metre,
                   1e-5 * kilogram_per_cubic_metre));
    }

    // Source: the check values of IAPWS SR6-08, table 8, at 0.1 MPa, as they stand in a public test
    // suite.
    TEST_CASE("the viscosity meets the check values of its standard") {
        CHECK(near(liquid_water_viscosity(Temperature::from_kelvin(260.0)),
                   3058.36075 * micropascal_second, 1e-5 * micropascal_second));
        CHECK(near(liquid_water_viscosity(Temperature::from_kelvin(298.15)),
                   889.996774 * micropascal_second, 1e-6 * micropascal_second));
        CHECK(near(liquid_water_viscosity(Temperature::from_kelvin(375.0)),
                   276.207245 * micropascal_second, 1e-6 * micropascal_second));
    }

    // Source: values quoted for the 2001 table in public programs, four decimals.
    TEST_CASE("the density meets the values of Tanaka's table") {
        CHECK(near(fresh(celsius(20.0)).density, 998.2067 * kilogram_per_cubic_metre,
                   0.00006 * kilogram_per_cubic_metre));
        CHECK(near(fresh(celsius(25.0)).density, 997.0470 * kilogram_per_cubic_metre,
                   0.00006 * kilogram_per_cubic_metre));
    }

    // Source: IAPWS-95 density and IAPWS R12-08 viscosity at 101.325 kPa, computed with
    // iapws 1.5.2.
    TEST_CASE("fresh water from 0 to 40 °C as the full formulations have it") {
        const struct {
            double celsius, density, viscosity;  // kg/m3, mPa s
        } rows[] = {
            {0.01, 999.84376, 1.791132}, {1, 999.90184, 1.731021},  {2, 999.94300, 1.673515},
            {3, 999.96716, 1.619009},    {4, 999.97487, 1.567292},  {5, 999.96663, 1.518173},
            {6, 999.94294, 1.471477},    {8, 999.85102, 1.384724},  {10, 999.70247, 1.305900},
            {12, 999.50035, 1.234043},   {14, 999.24738, 1.168337}, {15, 999.10262, 1.137568},
            {16, 998.94606, 1.108081},   {18, 998.59863, 1.052674}, {20, 998.20715, 1.001596},
            {22, 997.77349, 0.954396},   {24, 997.29937, 0.910682}, {25, 997.04764, 0.890022},
            {26, 996.78637, 0.870109},   {28, 996.23595, 0.832378}, {30, 995.64945, 0.797222},
            {35, 994.03332, 0.719126},   {40, 992.21635, 0.652729}};
        for (const auto& row : rows) {
            CAPTURE(row.celsius);
            const Water water = fresh(celsius(row.celsius));
            CHECK(near(water.density, row.density * kilogram_per_cubic_metre,
                       0.0012 * kilogram_per_cubic_metre));
            CHECK(near(water.viscosity, row.viscosity * millipascal_second,
                       0.00004 * row.viscosity * millipascal_second));
        }
    }

    // Source: the check values of EOS-80 at one atmosphere (UNESCO technical paper 44), as quoted
    // in public programs. The fresh part here is Tanaka's, hence the 0.001 kg/m3.
    TEST_CASE("salt and fresh water meet the check values of EOS-80") {
        const struct {
            double salinity, celsius, density;
        } rows[] = {
            {0, 5, 999.96675}, {0, 25, 997.04796}, {35, 5, 1027.67547}, {35, 25, 1023.34306}};
        for (const auto& row : rows) {
            CAPTURE(row.salinity);
            CAPTURE(row.celsius);
            CHECK(near(salt(celsius_of_1968(row.celsius), row.salinity).density,
                       row.density * kilogram_per_cubic_metre, 0.001 * kilogram_per_cubic_metre));
        }
    }

    // The differences of the rows above, where the fresh part cancels.
    TEST_CASE("what salt adds meets EOS-80 to its last digit") {
        const auto added = [](double t) {
            return salt(celsius_of_1968(t), 35.0).density - fresh(celsius_of_1968(t)).density;
        };
        CHECK(near(added(5.0), 27.70872 * kilogram_per_cubic_metre,
                   0.00001 * kilogram_per_cubic_metre));
        CHECK(near(added(25.0), 26.29510 * kilogram_per_cubic_metre,
                   0.00001 * kilogram_per_cubic_metre));
    }

    // Source: EOS-80 by its formula, and TEOS-10 (rho_t_exact) computed with gsw 3.6.16. Viscosity:
    // Sharqawy's ratio over Sharqawy's own fresh water, computed; its coefficients are from memory,
    // so this column proves the arithmetic and not the coefficients.
    TEST_CASE("brackish and sea water as EOS-80, TEOS-10 and Sharqawy have it") {
        const struct {
            double salinity, celsius, eos80, teos10, viscosity;  // kg/m3, kg/m3, mPa s
        } rows[] = {
            {5, 0, 1003.91313, 1003.91485, 1.80567},   {5, 10, 1003.61183, 1003.61166, 1.31760},
            {5, 20, 1002.00650, 1002.00970, 1.01150},  {5, 30, 999.37809, 999.37925, 0.80568},
            {10, 0, 1007.95481, 1007.95573, 1.82062},  {10, 10, 1007.50087, 1007.49892, 1.32968},
            {10, 20, 1005.79163, 1005.79388, 1.02158}, {10, 30, 1003.09297, 1003.09212, 0.81428},
            {20, 0, 1016.01368, 1016.01607, 1.85268},  {20, 10, 1015.26899, 1015.26838, 1.35527},
            {20, 20, 1013.36084, 1013.36426, 1.04275}, {20, 30, 1010.52501, 1010.52360, 0.83222},
            {30, 0, 1024.07155, 1024.07487, 1.88763},  {30, 10, 1023.05073, 1023.05326, 1.38278},
            {30, 20, 1020.95265, 1020.95799, 1.06526}, {30, 30, 1017.98297, 1017.98327, 0.85114},
            {35, 0, 1028.10633, 1028.10718, 1.90619},  {35, 10, 1026.95200, 1026.95411, 1.39725},
            {35, 20, 1024.76174, 1024.76600, 1.07702}, {35, 30, 1021.72618, 1021.72609, 0.86098},
            {40, 0, 1032.14710, 1032.14193, 1.92546},  {40, 10, 1030.86198, 1030.86082, 1.41220},
            {40, 20, 1028.58121, 1028.58165, 1.08912}, {40, 30, 1025.48039, 1025.47780, 0.87106}};
        for (const auto& row : rows) {
            CAPTURE(row.salinity);
            CAPTURE(row.celsius);
            const Water water = salt(celsius(row.celsius), row.salinity);
            CHECK(near(water.density, row.eos80 * kilogram_per_cubic_metre,
                       0.0015 * kilogram_per_cubic_metre));
            CHECK(near(water.density, row.teos10 * kilogram_per_cubic_metre,
                       0.006 * kilogram_per_cubic_metre));
            CHECK(near(water.viscosity, row.viscosity * millipascal_second,
                       0.0003 * row.viscosity * millipascal_second));
        }
    }

    // Source: check values of TEOS-10 (gsw_check_data.h, commit f63ac47e): absolute salinity 34.468
    // and 34.557 g/kg, conservative temperature 27.996 and 27.323 °C, 0 dbar. In sea water this
    // warm the two temperatures differ by a few hundredths of a degree (from memory), that is 0.01
    // kg/m3.
    TEST_CASE("two check values of TEOS-10 for warm sea water") {
        const auto sea = [](double conservative_celsius, double absolute_salinity) {
            return salt(celsius(conservative_celsius), absolute_salinity * 35.0 / 35.16504).density;
        };
        CHECK(near(sea(27.996436412, 34.468236430), 1021.8863044505 * kilogram_per_cubic_metre,
                   0.015 * kilogram_per_cubic_metre));
        CHECK(near(sea(27.322890736, 34.556977983), 1022.1689924980 * kilogram_per_cubic_metre,
                   0.015 * kilogram_per_cubic_metre));
    }

    // Source: the ratio of salt to fresh viscosity by Sharqawy's formula, computed (see above),
    // five decimals, so that a ratio is good to 0.000015.
    TEST_CASE("salt thickens water by a ratio that hardly depends on the temperature") {
        const struct {
            double salinity, celsius, salt, fresh;  // mPa s
        } rows[] = {{10, 0, 1.82062, 1.79144},  {35, 0, 1.90619, 1.79144},
                    {40, 10, 1.41220, 1.30601}, {20, 20, 1.04275, 1.00176},
                    {40, 30, 0.87106, 0.79732}, {5, 30, 0.80568, 0.79732}};
        for (const auto& row : rows) {
            CAPTURE(row.salinity);
            CAPTURE(row.celsius);
            const Temperature t = celsius(row.celsius);
            CHECK(near(salt(t, row.salinity).viscosity / fresh(t).viscosity, row.salt / row.fresh,
                       0.000015));
        }
    }

    TEST_CASE("a practical salinity of 35 is 35.165 g of salt in a kilogram") {
        CHECK(near(Salinity::from_practical(35.0)->mass_fraction(), 0.03516504, 1e-15));
        CHECK(Salinity{}.practical() == 0.0);
    }

    TEST_CASE("water is fresh unless somebody says otherwise") {
        CHECK(water_at(celsius(12.0)).value() == salt(celsius(12.0), 0.0));
        CHECK(fresh_water_at_10_C() == fresh(celsius(10.0)));
    }

    TEST_CASE("kinematic viscosity at 10 °C is 1.3063 mm²/s") {
        CHECK(near(kinematic_viscosity(fresh_water_at_10_C()),
                   1.30629 * (millimetre * millimetre / second),
                   0.00002 * (millimetre * millimetre / second)));
    }

    TEST_CASE("ice and bath water are refused, the limits themselves are not") {
        CHECK(water_at(celsius(0.0)));
        CHECK(water_at(celsius(40.0)));
        CHECK(water_at(Temperature::from_fahrenheit(32.0)));
        CHECK(water_at(Temperature::from_fahrenheit(104.0)));
        CHECK_FALSE(water_at(celsius(-0.01)));
        CHECK_FALSE(water_at(celsius(40.01)));
        CHECK_FALSE(water_at(celsius(std::numeric_limits<double>::quiet_NaN())));
        CHECK(to_line(water_at(celsius(50.0)).error()) ==
              "water at 50.00 C is not provided for; expected a temperature between 0 and 40 C (32 "
              "and 104 F)");
    }

    TEST_CASE("a salinity below 0 or above 42 is refused") {
        CHECK(Salinity::from_practical(0.0));
        CHECK(Salinity::from_practical(42.0));
        CHECK_FALSE(Salinity::from_practical(-0.1));
        CHECK_FALSE(Salinity::from_practical(42.1));
        CHECK_FALSE(Salinity::from_practical(std::numeric_limits<double>::quiet_NaN()));
        CHECK(Salinity::from_practical(350.0).error().sentence ==
              "a salinity of 350.0 does not occur");
    }
}
