// The units themselves. Factors are exact and derived here from the definitions alone:
// inch = 25.4 mm, pound = 0.45359237 kg, US gallon = 231 in³, imperial gallon = 4.54609 L, standard
// gravity = 9.80665 m/s², acre = 43,560 ft² of the international foot.
// Sources: NIST Handbook 44, App. C; NIST SP 811 (2008), App. B; 21 CFR 101.9(b)(5)(viii) for the
// measures of food labels. Overflow in a constant expression would not compile.
#include "quantity/unit.h"

namespace steep {
namespace {

constexpr Fraction mul(Fraction a, Fraction b) {
  const Fraction left(a.numerator(), b.denominator()), right(b.numerator(), a.denominator());
  return Fraction(left.numerator() * right.numerator(), left.denominator() * right.denominator());
}
constexpr Fraction div(Fraction a, Fraction b) { return mul(a, Fraction(b.denominator(), b.numerator())); }

constexpr Fraction kInch(254, 10000);
constexpr Fraction kFoot = mul(kInch, 12);
constexpr Fraction kYard = mul(kFoot, 3);
constexpr Fraction kMile = mul(kFoot, 5280);
constexpr Fraction kSquareFoot = mul(kFoot, kFoot);
constexpr Fraction kThousandSquareFeet = mul(kSquareFoot, 1000);
constexpr Fraction kAcre = mul(kSquareFoot, 43560);
constexpr Fraction kSurveyFoot(1200, 3937);
constexpr Fraction kSurveyAcre = mul(mul(kSurveyFoot, kSurveyFoot), 43560);
constexpr Fraction kHectare = 10000;
constexpr Fraction kLiter(1, 1000);
constexpr Fraction kMilliliter(1, 1000000);
constexpr Fraction kCubicInch = mul(mul(kInch, kInch), kInch);
constexpr Fraction kGallon = mul(kCubicInch, 231);
constexpr Fraction kFluidOunce = div(kGallon, 128);
constexpr Fraction kImperialGallon(454609, 100000000);
constexpr Fraction kImperialFluidOunce = div(kImperialGallon, 160);
constexpr Fraction kCubicFoot = mul(kSquareFoot, kFoot);
constexpr Fraction kCubicYard = mul(kCubicFoot, 27);
constexpr Fraction kBushel = mul(kCubicInch, Fraction(215042, 100));
constexpr Fraction kPound(45359237, 100000000);
constexpr Fraction kOunce = div(kPound, 16);
constexpr Fraction kGravity(980665, 100000);
constexpr Fraction kPsi = div(mul(kPound, kGravity), mul(kInch, kInch));
constexpr Fraction kMillimeterOfMercury = mul(mul(Fraction(135951, 10), kGravity), Fraction(1, 1000));
constexpr Fraction kInchOfWater = mul(mul(Fraction(1000), kGravity), kInch);
constexpr Fraction kMinute = 60;
constexpr Fraction kHour = 3600;

using enum Dimension;
using enum Measure;

// Tables are set by hand.
// clang-format off
// word, dimension, factor, offset, measure, spellings
constexpr Unit kUnits[] = {
    {"%", Share, {1, 100}, 0, Common, "percent|per cent|pct|por ciento|porciento"},

    {"each", Count, 1, 0, Common, "ea|piece|pieces|pc|pcs|pieza|piezas|unidad|unidades"},
    {"bunch", Count, 1, 0, Common, "bunches|manojo|manojos"},
    {"head", Count, 1, 0, Common, "heads|cabeza|cabezas"},
    {"crate", Count, 1, 0, Common, "crates|caja de campo|cajas de campo|jaba|jabas"},
    {"box", Count, 1, 0, Common, "boxes|caja|cajas"},
    {"bag", Count, 1, 0, Common, "bags|bolsa|bolsas|saco|sacos|costal|costales"},
    {"flat", Count, 1, 0, Common, "flats|charola|charolas|bandeja|bandejas"},

    {"ft", Length, kFoot, 0, Common, "foot|feet|pie|pies|~bed feet|~bed-feet|~bed foot|~bed ft|~bed-ft|~pies de cama|'|\xE2\x80\xB2|\xE2\x80\x99"},
    {"in", Length, kInch, 0, Common, "inch|inches|pulg|pulgada|pulgadas|\"|''|\xE2\x80\xB3|\xE2\x80\x9D"},
    {"yd", Length, kYard, 0, Common, "yard|yards|yds|yarda|yardas"},
    {"mi", Length, kMile, 0, Common, "mile|miles|milla|millas"},
    {"m", Length, 1, 0, Common, "meter|meters|metre|metres|mt|mts|metro|metros"},
    {"cm", Length, {1, 100}, 0, Common, "centimeter|centimeters|centimetre|centimetres|centimetro|centimetros|centímetro|centímetros"},
    {"mm", Length, {1, 1000}, 0, Common, "millimeter|millimeters|millimetre|millimetres|milimetro|milimetros|milímetro|milímetros"},
    {"km", Length, 1000, 0, Common, "kilometer|kilometers|kilometre|kilometres|kilometro|kilometros|kilómetro|kilómetros"},

    {"ft2", Area, kSquareFoot, 0, Common, "sq ft|sqft|sq feet|square foot|square feet|sf|ft^2|pie2|pies2|pie cuadrado|pies cuadrados"},
    {"1000 ft2", Area, kThousandSquareFeet, 0, Common, "1000 sq ft|1000 sqft|1000 square feet|1000 sf|1000 pies2|1000 pies cuadrados|mil pies cuadrados"},
    {"acre", Area, kAcre, 0, Common, "ac|acres|~a"},
    {"survey acre", Area, kSurveyAcre, 0, Common, "us survey acre|survey acres|acre topográfico|acres topográficos"},
    {"m2", Area, 1, 0, Common, "sq m|sqm|square meter|square meters|square metre|square metres|m^2|metro cuadrado|metros cuadrados"},
    {"cm2", Area, {1, 10000}, 0, Common, "sq cm|square centimeter|square centimeters|square centimetre|square centimetres|cm^2|centímetro cuadrado|centímetros cuadrados|centimetro cuadrado|centimetros cuadrados"},
    {"mm2", Area, {1, 1000000}, 0, Common, "sq mm|square millimeter|square millimeters|square millimetre|square millimetres|mm^2|milímetro cuadrado|milímetros cuadrados|milimetro cuadrado|milimetros cuadrados"},
    {"ha", Area, kHectare, 0, Common, "hectare|hectares|hectarea|hectareas|hectárea|hectáreas"},

    {"gal", Volume, kGallon, 0, Us, "gallon|gallons|gals|galón|galon|galones|us gal|us gallon|us gallons|gal us|galón us|galones us|galones estadounidenses"},
    {"qt", Volume, div(kGallon, 4), 0, Us, "quart|quarts|qts|us qt|us quart|us quarts|cuarto de galón|cuartos de galón|cuarto|cuartos"},
    {"pt", Volume, div(kGallon, 8), 0, Us, "pint|pints|pts|pinta|pintas|us pt|us pint|us pints"},
    {"cup", Volume, div(kGallon, 16), 0, Us, "cups|c|taza|tazas|us cup|us cups|taza us|tazas us"},
    {"fl oz", Volume, kFluidOunce, 0, Us,
     "floz|fluid ounce|fluid ounces|fluid oz|oz fl|onza líquida|onzas líquidas|onza liquida|onzas liquidas|onza fluida|onzas fluidas|oz líq|oz liq|"
     "us fl oz|us fluid ounce|us fluid ounces|~oz|~ounce|~ounces|~ozs|~onza|~onzas"},
    {"tbsp", Volume, div(kGallon, 256), 0, Us, "tablespoon|tablespoons|tbs|tbl|tbsps|cda|cdas|cucharada|cucharadas|us tbsp|us tablespoon|us tablespoons|~t"},
    {"tsp", Volume, div(kGallon, 768), 0, Us, "teaspoon|teaspoons|tsps|cdta|cdtas|cdita|cditas|cucharadita|cucharaditas|us tsp|us teaspoon|us teaspoons|~t"},
    {"imperial gal", Volume, kImperialGallon, 0, Imperial, "gal|gallon|gallons|gals|galón|galon|galones|imp gal|imperial gallon|imperial gallons|imp gallon|imp gallons|uk gal|uk gallon|uk gallons|galón imperial|galon imperial|galones imperiales|gal imperial|gal imperiales"},
    {"imperial qt", Volume, div(kImperialGallon, 4), 0, Imperial, "qt|quart|quarts|qts|imp qt|imperial quart|imperial quarts|uk qt|qt imperial|qt imperiales|cuarto de galón imperial|cuartos de galón imperial"},
    {"imperial pt", Volume, div(kImperialGallon, 8), 0, Imperial, "pt|pint|pints|pts|pinta|pintas|imp pt|imperial pint|imperial pints|uk pt|uk pint|uk pints|pt imperial|pt imperiales|pinta imperial|pintas imperiales"},
    {"imperial fl oz", Volume, kImperialFluidOunce, 0, Imperial,
     "fl oz|floz|fluid ounce|fluid ounces|fluid oz|oz fl|onza líquida|onzas líquidas|onza liquida|onzas liquidas|oz líq|oz liq|imp fl oz|imperial fluid ounce|imperial fluid ounces|uk fl oz|"
     "~oz|~ounce|~ounces|~ozs|~onza|~onzas|fl oz imperial|fl oz imperiales|onza líquida imperial|onzas líquidas imperiales"},
    {"metric cup", Volume, mul(250, kMilliliter), 0, Kitchen, "cup|cups|c|taza|tazas|metric cups|taza métrica|tazas métricas|taza metrica|tazas metricas"},
    {"metric tbsp", Volume, mul(15, kMilliliter), 0, Kitchen, "tbsp|tablespoon|tablespoons|tbs|tbl|tbsps|cda|cdas|cucharada|cucharadas|metric tablespoon|metric tablespoons|cucharada métrica|cucharadas métricas|~t|cda métrica|cdas métricas"},
    {"metric tsp", Volume, mul(5, kMilliliter), 0, Kitchen, "tsp|teaspoon|teaspoons|tsps|cdta|cdtas|cdita|cditas|cucharadita|cucharaditas|metric teaspoon|metric teaspoons|cucharadita métrica|cucharaditas métricas|~t|cdta métrica|cdtas métricas"},
    {"Australian tbsp", Volume, mul(20, kMilliliter), 0, Kitchen, "tbsp|tablespoon|tablespoons|tbs|tbl|tbsps|au tbsp|australian tablespoon|australian tablespoons|~t|cda australiana|cdas australianas"},
    {"label cup", Volume, mul(240, kMilliliter), 0, Label, "legal cup|label cups|us legal cup|taza de etiqueta|tazas de etiqueta"},
    {"label tbsp", Volume, mul(15, kMilliliter), 0, Label, "legal tbsp|us legal tablespoon|cda de etiqueta|cdas de etiqueta"},
    {"label tsp", Volume, mul(5, kMilliliter), 0, Label, "legal tsp|us legal teaspoon|cdta de etiqueta|cdtas de etiqueta"},
    {"label fl oz", Volume, mul(30, kMilliliter), 0, Label, "legal fl oz|us legal fluid ounce|fl oz de etiqueta"},
    {"L", Volume, kLiter, 0, Common, "liter|liters|litre|litres|lt|lts|ltr|ltrs|litro|litros"},
    {"mL", Volume, kMilliliter, 0, Common, "milliliter|milliliters|millilitre|millilitres|cc|cm3|mililitro|mililitros"},
    {"uL", Volume, {1, 1000000000}, 0, Common, "microliter|microliters|microlitre|microlitres|microlitro|microlitros|mm3|mm^3"},
    {"m3", Volume, 1, 0, Common, "cubic meter|cubic meters|cubic metre|cubic metres|cu m|m^3|metro cúbico|metros cúbicos|metro cubico|metros cubicos"},
    {"ft3", Volume, kCubicFoot, 0, Common, "cubic foot|cubic feet|cu ft|cuft|ft^3|pie3|pies3|pie cúbico|pies cúbicos|pie cubico|pies cubicos"},
    {"yd3", Volume, kCubicYard, 0, Common, "cubic yard|cubic yards|cu yd|cu yds|yd^3|yarda cúbica|yardas cúbicas|yarda cubica|yardas cubicas"},
    {"bushel", Volume, kBushel, 0, Us, "bu|bushels|us bushel"},
    {"imperial bushel", Volume, mul(kImperialGallon, 8), 0, Imperial, "bu|bushel|bushels|imp bushel|imp bushels|imperial bushels|uk bushel|uk bushels|bushels imperiales"},

    {"lb", Mass, kPound, 0, Common, "lbs|pound|pounds|libra|libras|#"},
    {"oz", Mass, kOunce, 0, Common, "ozs|ounce|ounces|onza|onzas|oz wt|wt oz|dry oz|oz av|oz avdp|oz weight|oz (weight)|oz by weight|oz de peso|onza de peso|onzas de peso|oz peso"},
    {"kg", Mass, 1, 0, Common, "kgs|kilo|kilos|kilogram|kilograms|kilogramo|kilogramos"},
    {"g", Mass, {1, 1000}, 0, Common, "gr|grs|gram|grams|gramme|grammes|gramo|gramos"},
    {"mg", Mass, {1, 1000000}, 0, Common, "milligram|milligrams|miligramo|miligramos"},
    {"ton", Mass, mul(kPound, 2000), 0, Us, "tons|short ton|short tons|us ton|us tons|tonelada corta|toneladas cortas"},
    {"imperial ton", Mass, mul(kPound, 2240), 0, Imperial, "ton|tons|long ton|long tons|imperial tons|uk ton|uk tons|tonelada larga|toneladas largas"},
    {"t", Mass, 1000, 0, Common, "tonne|tonnes|metric ton|metric tons|tonelada|toneladas|tonelada métrica|toneladas métricas|~ton|~tons"},

    {"s", Time, 1, 0, Common, "sec|secs|second|seconds|seg|segs|segundo|segundos|\"|\xE2\x80\xB3"},
    {"min", Time, kMinute, 0, Common, "m|mins|minute|minutes|minuto|minutos|'|\xE2\x80\xB2"},
    {"h", Time, kHour, 0, Common, "hr|hrs|hour|hours|hora|horas|hs"},
    {"day", Time, 86400, 0, Common, "d|days|día|días|dia|dias"},
    {"week", Time, 604800, 0, Common, "wk|wks|weeks|semana|semanas|sem"},

    {"degF", Temperature, {5, 9}, {45967, 100}, Common, "f|deg f|degrees f|degree f|fahrenheit|degrees fahrenheit|grados f|grados fahrenheit|deg"},
    {"degC", Temperature, 1, {27315, 100}, Common, "c|deg c|degrees c|degree c|celsius|degrees celsius|centigrade|grados c|grados celsius|centígrados|centigrados|grados centígrados|grados centigrados|deg"},
    {"degF diff", TemperatureDifference, {5, 9}, 0, Common, "f|deg f|degf|degrees f|degrees fahrenheit|f diff|grados f|grados fahrenheit|deg"},
    {"degC diff", TemperatureDifference, 1, 0, Common, "c|deg c|degc|degrees c|degrees celsius|c diff|k|kelvin|grados c|grados celsius|deg"},

    {"psi", Pressure, kPsi, 0, Common, "psig|lb/in2|lb/sq in|lbs/sq in|pounds per square inch|libras por pulgada cuadrada|lb/pulg2"},
    {"bar", Pressure, 100000, 0, Common, "bars|bares"},
    {"mbar", Pressure, 100, 0, Common, "millibar|millibars|milibar|milibares|hpa"},
    {"kPa", Pressure, 1000, 0, Common, "kilopascal|kilopascals|kilopascales"},
    {"Pa", Pressure, 1, 0, Common, "pascal|pascals|pascales"},
    {"atm", Pressure, 101325, 0, Common, "atmosphere|atmospheres|atmósfera|atmósferas|atmosfera|atmosferas"},
    {"mmHg", Pressure, kMillimeterOfMercury, 0, Common, "mm hg|torr"},
    {"inHg", Pressure, mul(kMillimeterOfMercury, Fraction(254, 10)), 0, Common, "in hg|inches of mercury|\" hg|\"hg"},
    {"inH2O", Pressure, kInchOfWater, 0, Common, "in h2o|in wc|inches of water|\" h2o|pulgadas de agua"},

    {"mph", Speed, div(kMile, kHour), 0, Common, "mi/h|mi/hr|miles per hour|miles an hour|millas por hora"},
    {"km/h", Speed, div(1000, kHour), 0, Common, "kmh|kph|kmph|km/hr"},
    {"m/s", Speed, 1, 0, Common, "mps"},
    {"m/min", Speed, {1, 60}, 0, Common, ""},
    {"kn", Speed, div(1852, kHour), 0, Common, "kt|kts|knot|knots|nudo|nudos"},
    {"ft/min", Speed, div(kFoot, kMinute), 0, Common, "fpm"},
    {"ft/s", Speed, kFoot, 0, Common, "fps"},

    {"gal/min", Flow, div(kGallon, kMinute), 0, Us, "gpm"},
    {"gal/h", Flow, div(kGallon, kHour), 0, Us, "gph"},
    {"imperial gal/h", Flow, div(kImperialGallon, kHour), 0, Imperial, "gph"},
    {"imperial gal/min", Flow, div(kImperialGallon, kMinute), 0, Imperial, "gpm"},
    {"fl oz/min", Flow, div(kFluidOunce, kMinute), 0, Us, ""},
    {"imperial fl oz/min", Flow, div(kImperialFluidOunce, kMinute), 0, Imperial, ""},
    {"fl oz/s", Flow, kFluidOunce, 0, Us, ""},
    {"imperial fl oz/s", Flow, kImperialFluidOunce, 0, Imperial, ""},
    {"L/min", Flow, div(kLiter, kMinute), 0, Common, "lpm"},
    {"L/h", Flow, div(kLiter, kHour), 0, Common, "lph"},
    {"L/s", Flow, kLiter, 0, Common, "lps"},
    {"mL/min", Flow, div(kMilliliter, kMinute), 0, Common, ""},
    {"mL/s", Flow, kMilliliter, 0, Common, ""},
    {"m3/h", Flow, div(1, kHour), 0, Common, ""},
    {"cfm", Flow, div(kCubicFoot, kMinute), 0, Common, "ft3/min|scfm|cubic feet per minute|pies cúbicos por minuto|pies cubicos por minuto|cu ft/min|cuft/min|pie3/min|pies3/min|cubic feet/min|cubic feet/minute"},

    {"gal/acre", VolumePerArea, div(kGallon, kAcre), 0, Us, "gpa"},
    {"imperial gal/acre", VolumePerArea, div(kImperialGallon, kAcre), 0, Imperial, "gpa"},
    {"qt/acre", VolumePerArea, div(div(kGallon, 4), kAcre), 0, Us, ""},
    {"imperial qt/acre", VolumePerArea, div(div(kImperialGallon, 4), kAcre), 0, Imperial, ""},
    {"pt/acre", VolumePerArea, div(div(kGallon, 8), kAcre), 0, Us, ""},
    {"imperial pt/acre", VolumePerArea, div(div(kImperialGallon, 8), kAcre), 0, Imperial, ""},
    {"fl oz/acre", VolumePerArea, div(kFluidOunce, kAcre), 0, Us, ""},
    {"imperial fl oz/acre", VolumePerArea, div(kImperialFluidOunce, kAcre), 0, Imperial, ""},
    {"gal/1000 ft2", VolumePerArea, div(kGallon, kThousandSquareFeet), 0, Us, ""},
    {"imperial gal/1000 ft2", VolumePerArea, div(kImperialGallon, kThousandSquareFeet), 0, Imperial, ""},
    {"qt/1000 ft2", VolumePerArea, div(div(kGallon, 4), kThousandSquareFeet), 0, Us, ""},
    {"imperial qt/1000 ft2", VolumePerArea, div(div(kImperialGallon, 4), kThousandSquareFeet), 0, Imperial, ""},
    {"pt/1000 ft2", VolumePerArea, div(div(kGallon, 8), kThousandSquareFeet), 0, Us, ""},
    {"imperial pt/1000 ft2", VolumePerArea, div(div(kImperialGallon, 8), kThousandSquareFeet), 0, Imperial, ""},
    {"fl oz/1000 ft2", VolumePerArea, div(kFluidOunce, kThousandSquareFeet), 0, Us, ""},
    {"imperial fl oz/1000 ft2", VolumePerArea, div(kImperialFluidOunce, kThousandSquareFeet), 0, Imperial, ""},
    {"L/ha", VolumePerArea, div(kLiter, kHectare), 0, Common, ""},
    {"mL/ha", VolumePerArea, div(kMilliliter, kHectare), 0, Common, ""},
    {"L/m2", VolumePerArea, kLiter, 0, Common, ""},
    {"mL/m2", VolumePerArea, kMilliliter, 0, Common, ""},

    {"lb/acre", MassPerArea, div(kPound, kAcre), 0, Common, ""},
    {"oz/acre", MassPerArea, div(kOunce, kAcre), 0, Common, ""},
    {"ton/acre", MassPerArea, div(mul(kPound, 2000), kAcre), 0, Us, ""},
    {"imperial ton/acre", MassPerArea, div(mul(kPound, 2240), kAcre), 0, Imperial, ""},
    {"t/acre", MassPerArea, div(1000, kAcre), 0, Common, ""},
    {"lb/1000 ft2", MassPerArea, div(kPound, kThousandSquareFeet), 0, Common, ""},
    {"oz/1000 ft2", MassPerArea, div(kOunce, kThousandSquareFeet), 0, Common, ""},
    {"kg/ha", MassPerArea, div(1, kHectare), 0, Common, ""},
    {"g/ha", MassPerArea, div(Fraction(1, 1000), kHectare), 0, Common, ""},
    {"t/ha", MassPerArea, div(1000, kHectare), 0, Common, ""},
    {"g/m2", MassPerArea, {1, 1000}, 0, Common, ""},
    {"kg/m2", MassPerArea, 1, 0, Common, ""},

    {"mg/L", MassPerVolume, {1, 1000}, 0, Common, "ppm|parts per million|partes por millón|partes por millon"},
    {"g/L", MassPerVolume, 1, 0, Common, ""},
    {"kg/m3", MassPerVolume, 1, 0, Common, ""},
    {"g/mL", MassPerVolume, 1000, 0, Common, ""},
    {"kg/L", MassPerVolume, 1000, 0, Common, ""},
    {"oz/gal", MassPerVolume, div(kOunce, kGallon), 0, Us, ""},
    {"lb/gal", MassPerVolume, div(kPound, kGallon), 0, Us, ""},
    {"oz/imperial gal", MassPerVolume, div(kOunce, kImperialGallon), 0, Imperial, ""},
    {"lb/imperial gal", MassPerVolume, div(kPound, kImperialGallon), 0, Imperial, ""},
    {"g/gal", MassPerVolume, div(Fraction(1, 1000), kGallon), 0, Us, ""},
    {"g/imperial gal", MassPerVolume, div(Fraction(1, 1000), kImperialGallon), 0, Imperial, ""},
    {"oz/100 gal", MassPerVolume, div(kOunce, mul(100, kGallon)), 0, Us, ""},
    {"lb/100 gal", MassPerVolume, div(kPound, mul(100, kGallon)), 0, Us, ""},
    {"oz/100 imperial gal", MassPerVolume, div(kOunce, mul(100, kImperialGallon)), 0, Imperial, ""},
    {"lb/100 imperial gal", MassPerVolume, div(kPound, mul(100, kImperialGallon)), 0, Imperial, ""},
    {"g/100 L", MassPerVolume, {1, 100}, 0, Common, ""},
    {"kg/100 L", MassPerVolume, 10, 0, Common, ""},
    {"lb/ft3", MassPerVolume, div(kPound, kCubicFoot), 0, Common, ""},
    {"lb/yd3", MassPerVolume, div(kPound, kCubicYard), 0, Common, ""},
    {"g/cup", MassPerVolume, div(Fraction(1, 1000), div(kGallon, 16)), 0, Us, ""},
    {"g/metric cup", MassPerVolume, div(Fraction(1, 1000), mul(250, kMilliliter)), 0, Kitchen, ""},

    {"mL/L", VolumePerVolume, {1, 1000}, 0, Common, "l/m3"},
    {"fl oz/gal", VolumePerVolume, {1, 128}, 0, Us, ""},
    {"tbsp/gal", VolumePerVolume, {1, 256}, 0, Us, ""},
    {"metric tbsp/imperial gal", VolumePerVolume, div(mul(15, kMilliliter), kImperialGallon), 0, Kitchen, ""},
    {"tsp/gal", VolumePerVolume, {1, 768}, 0, Us, ""},
    {"metric tsp/imperial gal", VolumePerVolume, div(mul(5, kMilliliter), kImperialGallon), 0, Kitchen, ""},
    {"cup/gal", VolumePerVolume, {1, 16}, 0, Us, ""},
    {"metric cup/imperial gal", VolumePerVolume, div(mul(250, kMilliliter), kImperialGallon), 0, Kitchen, ""},
    {"pt/gal", VolumePerVolume, {1, 8}, 0, Us, ""},
    {"imperial pt/imperial gal", VolumePerVolume, {1, 8}, 0, Imperial, ""},
    {"qt/gal", VolumePerVolume, {1, 4}, 0, Us, ""},
    {"imperial qt/imperial gal", VolumePerVolume, {1, 4}, 0, Imperial, ""},
    {"imperial fl oz/imperial gal", VolumePerVolume, {1, 160}, 0, Imperial, ""},
    {"gal/100 gal", VolumePerVolume, {1, 100}, 0, Us, ""},
    {"qt/100 gal", VolumePerVolume, {1, 400}, 0, Us, ""},
    {"pt/100 gal", VolumePerVolume, {1, 800}, 0, Us, ""},
    {"fl oz/100 gal", VolumePerVolume, {1, 12800}, 0, Us, ""},
    {"imperial gal/100 imperial gal", VolumePerVolume, {1, 100}, 0, Imperial, ""},
    {"imperial qt/100 imperial gal", VolumePerVolume, {1, 400}, 0, Imperial, ""},
    {"imperial pt/100 imperial gal", VolumePerVolume, {1, 800}, 0, Imperial, ""},
    {"imperial fl oz/100 imperial gal", VolumePerVolume, {1, 16000}, 0, Imperial, ""},
    {"mL/100 L", VolumePerVolume, {1, 100000}, 0, Common, ""},
    {"L/100 L", VolumePerVolume, {1, 100}, 0, Common, ""},
    {"mL/gal", VolumePerVolume, div(kMilliliter, kGallon), 0, Us, ""},
    {"mL/imperial gal", VolumePerVolume, div(kMilliliter, kImperialGallon), 0, Imperial, ""},

    {"L/min/gal", FlowPerVolume, div(div(kLiter, kMinute), kGallon), 0, Us, "lpm/gal"},
    {"L/min/imperial gal", FlowPerVolume, div(div(kLiter, kMinute), kImperialGallon), 0, Imperial, "lpm/gal"},
    {"L/min/L", FlowPerVolume, {1, 60}, 0, Common, "lpm/l|vvm"},
    {"cfm/gal", FlowPerVolume, div(div(kCubicFoot, kMinute), kGallon), 0, Us, "ft3/min/gal"},
    {"cfm/imperial gal", FlowPerVolume, div(div(kCubicFoot, kMinute), kImperialGallon), 0, Imperial, "ft3/min/gal"},

    {"mS/cm", Conductivity, {1, 10}, 0, Common, "ms|millisiemens|milisiemens|mmho/cm|mmhos/cm|ds/m"},
    {"uS/cm", Conductivity, {1, 10000}, 0, Common, "us|microsiemens|umho/cm|umhos/cm"},
};
// clang-format on

}  // namespace

std::span<const Unit> all_units() { return kUnits; }

}  // namespace steep
