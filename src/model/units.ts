import { type Language, label } from "./words.ts";

/** The unit in which a reader sees film: micrometres or thousandths of an inch. */
export type FilmUnit = "um" | "mil";

/** Micrometres in a mil. Exact: one inch is 25.4 mm (1959 agreement; ISO 80000-3). */
export const umPerMil = 25.4;

/** Newtons in a kilogram-force. Exact: standard gravity, 9.80665 m/s² (third CGPM, 1901). */
export const newtonPerKgf = 9.80665;

/** Newtons in a pound-force. Exact by the pound of 0.45359237 kg (1959 agreement) and standard gravity. */
export const newtonPerLbf = 4.4482216152605;

/** Millilitres in a US fluid ounce. Exact: 231 cubic inches are 128 fluid ounces. */
export const mlPerFluidOunce = 29.5735295625;

/** Square metres in a square foot. Exact: one foot is 0.3048 m. */
export const m2PerSquareFoot = 0.09290304;

/** Millimetres in an inch. Exact. */
export const mmPerInch = 25.4;

export function milToUm(mil: number): number {
	return mil * umPerMil;
}

export function umToMil(um: number): number {
	return um / umPerMil;
}

export function fahrenheitToCelsius(fahrenheit: number): number {
	return ((fahrenheit - 32) * 5) / 9;
}

export function celsiusToFahrenheit(celsius: number): number {
	return (celsius * 9) / 5 + 32;
}

/**
 * A number as the reader of a language writes it: decimal point in English, decimal comma in Spanish;
 * thousands are not parted, so that no reader takes a separator for a decimal sign.
 *
 * @param digits most digits after the decimal sign; trailing zeros are dropped
 */
export function formatNumber(value: number, language: Language, digits: number): string {
	const rounded = Number(value.toFixed(digits));
	// Never "-0", nor the exponent that very large or small numbers would get.
	const text = Math.abs(rounded) < 1e21 ? (rounded === 0 ? "0" : decimal(rounded, digits)) : String(rounded);
	return language === "es" ? text.replace(".", ",") : text;
}

/**
 * Film thickness, or the depth of a scratch in it, with its unit: `38 µm`, `1.50 mil`. Thin films and scratches have
 * the decimals they need: micrometres one below 10 µm and two below 1 µm; mils two, three below 0.1 mil and four
 * below 0.01 mil.
 */
export function formatFilm(um: number, unit: FilmUnit, language: Language): string {
	return `${filmFigure(um, unit, language)} ${label("filmUnit", unit, language)}`;
}

/** The figure of {@link formatFilm} alone, for where the unit stands elsewhere. */
export function filmFigure(um: number, unit: FilmUnit, language: Language): string {
	if (unit === "um") return formatNumber(um, language, decimals(um, 10));
	const mil = umToMil(um);
	const text = mil.toFixed(2 + decimals(mil, 0.1));
	return language === "es" ? text.replace(".", ",") : text;
}

/**
 * Reads a plain number with decimal point or comma. A sign, an exponent or other text: null.
 * A separator before exactly three digits is a decimal sign to one reader and parts the thousands to another:
 * both numbers come back, the decimal first.
 */
export function readNumber(text: string): number[] | null {
	const plain = text.trim();
	if (/^\d{1,12}$/.test(plain)) return [Number(plain)];
	const parted = /^(\d{1,3})([.,\u00a0\u202f' ])(\d{3}(?:\2\d{3})*)(?:([.,])(\d{1,30}))?$/.exec(plain);
	if (parted) {
		const [, head = "", separator = "", tail = "", sign, fraction = ""] = parted;
		const thousands = Number(`${head}${tail.replaceAll(separator, "")}.${fraction}`);
		const single = tail.length === 3 && sign === undefined;
		const couldBeDecimal = single && (separator === "." || separator === ",");
		if (sign === separator) return null;
		if (!couldBeDecimal) return [thousands];
		const asDecimal = Number(`${head}.${tail}`);
		return head.startsWith("0") ? [asDecimal] : [asDecimal, thousands];
	}
	const fractional = /^(\d{0,12})[.,](\d{1,30})$/.exec(plain);
	return fractional ? [Number(`${fractional[1] || "0"}.${fractional[2]}`)] : null;
}

/** None from `from` up, one from a tenth of it, two below; a zero needs none. */
function decimals(value: number, from: number): number {
	const size = Math.abs(value);
	return size === 0 || size >= from ? 0 : size >= from / 10 ? 1 : 2;
}

function decimal(value: number, digits: number): string {
	const text = value.toFixed(digits);
	return text.includes(".") ? text.replace(/\.?0+$/, "") : text;
}
