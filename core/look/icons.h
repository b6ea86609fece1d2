#pragma once
/// Icons by name. Values up to 0xF8FF are code points of the icon font (Material Design Icons
/// 1.6.50); those from 0x10000 on are drawn by us (draw_icon in draw.h does both).

#include <cstdint>

namespace steep {

enum class Icon : std::uint32_t {
  None = 0,
  // Places
  Today = 0xF56F,
  Brew = 0xF65B,
  Spray = 0xF665,
  Beds = 0xF56D,
  Book = 0xF0BE,
  Trace = 0xF4AA,
  Merge = 0xF0F8,
  Reports = 0xF42A,
  Settings = 0xF493,
  // Do
  Plus = 0xF415,
  Minus = 0xF374,
  Pencil = 0xF3EB,
  Close = 0xF156,
  ArrowLeft = 0xF04D,
  ArrowRight = 0xF054,
  ChevronLeft = 0xF141,
  ChevronRight = 0xF142,
  ChevronUp = 0xF143,
  ChevronDown = 0xF140,
  Undo = 0xF54C,
  SkipNext = 0xF4AD,
  Backspace = 0xF06E,
  Magnify = 0xF349,
  Filter = 0xF236,
  SortUp = 0xF4BC,
  SortDown = 0xF4BD,
  FileOut = 0xF21D,
  FileIn = 0xF220,
  Download = 0xF1DA,
  Camera = 0xF100,
  Note = 0xF39E,
  Strike = 0xF281,
  Timer = 0xF51B,
  Play = 0xF40A,
  Pause = 0xF3E4,
  Stop = 0xF4DB,
  Calendar = 0xF0ED,
  Clock = 0xF150,
  Drag = 0xF1DD,
  Lock = 0xF33E,
  Eye = 0xF208,
  Swap = 0xF4E1,
  // Things
  OnLeaf = 0xF32A,
  OnSoil = 0xF38E,
  Basket = 0xF076,
  Flask = 0xF093,
  LabTest = 0xF668,
  Microscope = 0xF654,
  Water = 0xF58C,
  WaterPump = 0xF58F,
  WaterOff = 0xF58D,
  Air = 0xF210,
  Thermometer = 0xF50F,
  Vessel = 0xF305,
  Heap = 0xF328,
  Lot = 0xF3D7,
  Scale = 0xF472,
  Tag = 0xF4FC,
  Client = 0xF53D,
  MapMarker = 0xF34E,
  Gps = 0xF1A4,
  Person = 0xF004,
  People = 0xF00E,
  Worker = 0xF5B5,
  Phone = 0xF11C,
  Computer = 0xF379,
  Certificate = 0xF124,
  Walk = 0xF583,
  Ruler = 0xF46D,
  Gauge = 0xF29A,
  Dialpad = 0xF61C,
  Fish = 0xF23A,
  Eyedropper = 0xF20A,
  Recycle = 0xF44C,
  Bug = 0xF0E4,
  FlagVariant = 0xF240,
  Clipboard = 0xF14C,
  History = 0xF2DA,
  Link = 0xF339,
  // Sky
  Sunny = 0xF599,
  Night = 0xF594,
  SunsetUp = 0xF59C,
  SunsetDown = 0xF59B,
  Wind = 0xF59D,
  Rain = 0xF597,
  Cloud = 0xF590,
  // Setting
  Translate = 0xF5CA,
  TextSize = 0xF27F,
  LightDark = 0xF50E,
  Brightness = 0xF0DE,
  Scales = 0xF5D1,
  Hand = 0xF2C7,
  Save = 0xF193,
  Offline = 0xF5AA,
  // Drawn by us. Those marked 'block' are filled squares or discs of their own colours and take no color.
  Tick = 0x10000,  ///< A thick tick.
  SavedTick,       ///< Leaf block with tick: saved, done, chosen.
  DraftTick,       ///< Hollow leaf square with tick.
  SavingDots,      ///< Hollow square with three dots.
  NotSaved,        ///< Beet block with '!'.
  NoEntry,         ///< Beet disc with bar.
  NoHarvest,       ///< Beet block with slashed basket.
  HalfBed,         ///< Half filled bed.
  Caution,         ///< Outlined triangle with '!', in the color given.
  CautionSolid,    ///< Filled triangle of the color given, its sign in the page's color.
  CautionDue,      ///< Due-filled triangle with ink edge and '!' (block).
  Question,        ///< Due block with '?'.
  Differs,         ///< Due block with '≠'.
  New,             ///< Hollow block with '+'.
  RadioOff,        ///< Hollow ring in the color given.
  RadioOn,         ///< Disc of the color given with a tick in the page's color.
  Mark,            ///< The mark of the program: ink block with three strips.
  SortedUp,
  SortedDown,  ///< Small filled triangles of table heads.
};

}  // namespace steep
