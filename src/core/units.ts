// Quantities with their units in the type, and the only conversions between units.

declare const unit: unique symbol;

/** A length; the number inside is millimetres. Diameters are whole, depths radial. */
export type Length = number & { readonly [unit]: 'length' };
/** An angle; the number inside is radians. */
export type Angle = number & { readonly [unit]: 'angle' };
/** A temperature; the number inside is degrees Celsius. */
export type Temperature = number & { readonly [unit]: 'temperature' };
/** Relative humidity; the number inside is a share from 0 to 1. */
export type Humidity = number & { readonly [unit]: 'humidity' };
/** Moisture content of wood; the number inside is percent of oven-dry mass. */
export type Moisture = number & { readonly [unit]: 'moisture' };
/** Milliseconds: of a board, of a trace, or of a clock that the caller names. */
export type Millis = number & { readonly [unit]: 'millis' };

/** What a caliper or a person may count lengths in. */
export type LengthUnit = 'mm' | 'in';

/** Millimetres in an inch, exact since 1959 (NIST SP 811, Appendix B.8; from memory). */
export const MM_PER_INCH = 25.4;

export const mm = (millimetres: number): Length => millimetres as Length;
export const inches = (count: number): Length => mm(count * MM_PER_INCH);
/** The pitch of n threads per inch. */
export const tpi = (threadsPerInch: number): Length => mm(MM_PER_INCH / threadsPerInch);
export const length = (value: number, of: LengthUnit): Length => (of === 'mm' ? mm(value) : inches(value));
export const radians = (value: number): Angle => value as Angle;
export const degrees = (value: number): Angle => radians((value * Math.PI) / 180);
export const celsius = (value: number): Temperature => value as Temperature;
export const fahrenheit = (value: number): Temperature => celsius(((value - 32) * 5) / 9);
export const humidityShare = (share: number): Humidity => share as Humidity;
export const humidityPercent = (percent: number): Humidity => humidityShare(percent / 100);
export const moisture = (percent: number): Moisture => percent as Moisture;
export const millis = (value: number): Millis => value as Millis;

export const inInches = (value: Length): number => value / MM_PER_INCH;
export const inUnit = (value: Length, of: LengthUnit): number => (of === 'mm' ? value : inInches(value));
export const inDegrees = (value: Angle): number => (value * 180) / Math.PI;
export const inPercent = (value: Humidity): number => value * 100;
