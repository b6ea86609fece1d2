#pragma once
/// The kinds of physical quantity that are written down or computed.

namespace steep {

/// SI unit of each in brackets.
enum class Dimension {
  Number,                 ///< A bare number; no unit word. [1]
  Share,                  ///< Per cent: moisture, humidity, saturation. [1]
  Count,                  ///< Bunches, heads, crates: each unit is comparable to itself alone. [1]
  Length,                 ///< [m]
  Area,                   ///< [m²]
  Volume,                 ///< [m³]
  Mass,                   ///< [kg]
  Time,                   ///< A length of time. [s]
  Temperature,            ///< A point. [K]
  TemperatureDifference,  ///< [K]
  Pressure,               ///< [Pa]
  Speed,                  ///< [m/s]
  Flow,                   ///< Liquid or air. [m³/s]
  VolumePerArea,          ///< [m³/m²]
  MassPerArea,            ///< [kg/m²]
  MassPerVolume,          ///< Concentration, dissolved oxygen, density. [kg/m³]
  VolumePerVolume,        ///< [m³/m³]
  FlowPerVolume,          ///< Air per volume of brew. [1/s]
  Conductivity,           ///< [S/m]
};

}  // namespace steep
