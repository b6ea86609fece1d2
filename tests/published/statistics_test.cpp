#include "trade/distributions.h"

#include <string>

#include "published/published.h"

using namespace steep::published;

namespace {

constexpr const char* kScipy = "scipy 1.10.1, evaluated independently";

TEST_CASE("statistics: quantiles of Student's t") {
  struct Row {
    double df, t90, t95, t975, t995;
  };
  for (const Row& row : {
           Row{1, 3.0777, 6.3138, 12.7062, 63.6567},
           {2, 1.8856, 2.9200, 4.3027, 9.9248},
           {3, 1.6377, 2.3534, 3.1824, 5.8409},
           {4, 1.5332, 2.1318, 2.7764, 4.6041},
           {5, 1.4759, 2.0150, 2.5706, 4.0321},
           {6, 1.4398, 1.9432, 2.4469, 3.7074},
           {8, 1.3968, 1.8595, 2.3060, 3.3554},
           {9, 1.3830, 1.8331, 2.2622, 3.2498},
           {10, 1.3722, 1.8125, 2.2281, 3.1693},
           {12, 1.3562, 1.7823, 2.1788, 3.0545},
           {15, 1.3406, 1.7531, 2.1314, 2.9467},
           {20, 1.3253, 1.7247, 2.0860, 2.8453},
           {30, 1.3104, 1.6973, 2.0423, 2.7500},
           {60, 1.2958, 1.6706, 2.0003, 2.6603},
           {120, 1.2886, 1.6577, 1.9799, 2.6174},
       }) {
    const std::string name = std::to_string(row.df) + " degrees of freedom";
    PUBLISHED_NUMBER("statistics", kScipy, name, *steep::t_quantile(0.90, row.df), row.t90, 0.00006);
    PUBLISHED_NUMBER("statistics", kScipy, name, *steep::t_quantile(0.95, row.df), row.t95, 0.00006);
    PUBLISHED_NUMBER("statistics", kScipy, name, *steep::t_quantile(0.975, row.df), row.t975, 0.00006);
    PUBLISHED_NUMBER("statistics", kScipy, name, *steep::t_quantile(0.995, row.df), row.t995, 0.00006);
  }
}

TEST_CASE("statistics: tails at the tabled quantiles of F") {
  constexpr double kRounded = 5e-6;  // Half of the last digit printed moves the chance by 3.6e-6 at the most.
  struct Row {
    double df1, df2, f95, f99;
  };
  for (const Row& row : {
           Row{1, 3, 10.1280, 34.1162}, {1, 5, 6.6079, 16.2582}, {1, 8, 5.3177, 11.2586}, {1, 10, 4.9646, 10.0443},
           {1, 12, 4.7472, 9.3302},     {1, 15, 4.5431, 8.6831}, {1, 20, 4.3512, 8.0960}, {1, 30, 4.1709, 7.5625},
           {2, 3, 9.5521, 30.8165},     {2, 5, 5.7861, 13.2739}, {2, 8, 4.4590, 8.6491},  {2, 10, 4.1028, 7.5594},
           {2, 12, 3.8853, 6.9266},     {2, 15, 3.6823, 6.3589}, {2, 20, 3.4928, 5.8489}, {2, 30, 3.3158, 5.3903},
           {3, 3, 9.2766, 29.4567},     {3, 5, 5.4095, 12.0600}, {3, 8, 4.0662, 7.5910},  {3, 10, 3.7083, 6.5523},
           {3, 12, 3.4903, 5.9525},     {3, 15, 3.2874, 5.4170}, {3, 20, 3.0984, 4.9382}, {3, 30, 2.9223, 4.5097},
           {4, 3, 9.1172, 28.7099},     {4, 5, 5.1922, 11.3919}, {4, 8, 3.8379, 7.0061},  {4, 10, 3.4780, 5.9943},
           {4, 12, 3.2592, 5.4120},     {4, 15, 3.0556, 4.8932}, {4, 20, 2.8661, 4.4307}, {4, 30, 2.6896, 4.0179},
           {5, 3, 9.0135, 28.2371},     {5, 5, 5.0503, 10.9670}, {5, 8, 3.6875, 6.6318},  {5, 10, 3.3258, 5.6363},
           {5, 12, 3.1059, 5.0643},     {5, 15, 2.9013, 4.5556}, {5, 20, 2.7109, 4.1027}, {5, 30, 2.5336, 3.6990},
       }) {
    const std::string name = std::to_string(row.df1) + ", " + std::to_string(row.df2);
    PUBLISHED_NUMBER("statistics", kScipy, name, *steep::f_upper_tail(row.f95, row.df1, row.df2), 0.05, kRounded);
    PUBLISHED_NUMBER("statistics", kScipy, name, *steep::f_upper_tail(row.f99, row.df1, row.df2), 0.01, kRounded);
  }
}

TEST_CASE("statistics: exact limits of a Poisson count") {
  struct Row {
    double count, low, high;
  };
  for (const Row& row : {
           Row{0, 0.0000, 3.6889},    {1, 0.0253, 5.5716},         {2, 0.2422, 7.2247},       {3, 0.6187, 8.7673},
           {4, 1.0899, 10.2416},      {5, 1.6235, 11.6683},        {6, 2.2019, 13.0595},      {8, 3.4538, 15.7632},
           {10, 4.7954, 18.3904},     {12, 6.2006, 20.9616},       {15, 8.3954, 24.7402},     {20, 12.2165, 30.8884},
           {25, 16.1787, 36.9049},    {30, 20.2409, 42.8269},      {40, 28.5766, 54.4686},    {50, 37.1110, 65.9188},
           {60, 45.7863, 77.2319},    {80, 63.4350, 99.5669},      {100, 81.3640, 121.6268},  {150, 126.9562, 176.0172},
           {200, 173.2409, 229.7220}, {250, 219.9680, 282.9877},   {300, 267.0093, 335.9411}, {400, 361.7563, 441.1866},
           {500, 457.1286, 545.8093}, {1000, 938.9730, 1063.9521},
       }) {
    const std::string name = "count " + std::to_string(row.count);
    const char* source = "Garwood 1936, evaluated with scipy 1.10.1 and R qgamma";
    if (row.count > 0) {
      PUBLISHED_NUMBER("statistics", source, name + ", low", *steep::chi_squared_quantile(0.025, 2 * row.count) / 2,
                       row.low, 0.0001);
    }
    PUBLISHED_NUMBER("statistics", source, name + ", high", *steep::chi_squared_quantile(0.975, 2 * row.count + 2) / 2,
                     row.high, 0.0001);
  }
}

TEST_CASE("statistics: tails of published tests") {
  PUBLISHED_NUMBER("statistics", "R data 'sleep', paired t test", "p", *steep::t_two_sided(-4.062128, 9), 0.0028329,
                   5e-8);
  PUBLISHED_NUMBER("statistics", "R data 'sleep', Welch test", "p", *steep::t_two_sided(-1.860813, 17.776474),
                   0.0793941, 2e-7);  // t is given to 7 digits.
  PUBLISHED_NUMBER("statistics", "MASS data 'immer', treatments in blocks", "p", *steep::f_upper_tail(4.23088, 4, 20),
                   0.012139, 5e-7);
  PUBLISHED_NUMBER("statistics", "R data 'npk', nitrogen", "p", *steep::f_upper_tail(12.25873, 1, 12), 0.0043718, 5e-8);
  PUBLISHED_NUMBER("statistics", "NIST e-Handbook 7.4.3.4 (from memory)", "p", *steep::f_upper_tail(9.59111, 2, 12),
                   0.0032482, 5e-8);
  PUBLISHED_NUMBER("statistics", "tables of the standard normal", "0.975", *steep::normal_quantile(0.975), 1.959964,
                   5e-7);
  PUBLISHED_NUMBER("statistics", "tables of the standard normal", "0.90", *steep::normal_quantile(0.90), 1.28155, 5e-6);
  PUBLISHED_NUMBER("statistics", "tables of chi-squared", "0.95 at 1", *steep::chi_squared_quantile(0.95, 1), 3.8415,
                   5e-5);
  PUBLISHED_NUMBER("statistics", "tables of chi-squared", "0.05 above 3.8415",
                   *steep::chi_squared_upper_tail(3.841459, 1), 0.05, 1e-7);
}

TEST_CASE("statistics: refuses what a distribution is not defined for") {
  CHECK(!steep::t_quantile(0, 5));
  CHECK(!steep::t_quantile(1, 5));
  CHECK(!steep::t_quantile(0.5, 0));
  CHECK(!steep::f_upper_tail(-1, 2, 3));
  CHECK(!steep::chi_squared_upper_tail(-1, 1));
  CHECK(steep::normal_quantile(2).error().kind == steep::Trouble::OutOfRange);
}

}  // namespace
