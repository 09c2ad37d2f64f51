import {
	type FilmUnit,
	m2PerSquareFoot,
	mlPerFluidOunce,
	mmPerInch,
	newtonPerKgf,
	newtonPerLbf,
	umPerMil,
} from "../units.ts";
import type { Language } from "../words.ts";
import { isBlank, oneOf, plainText, type Reading, type Sort } from "./reading.ts";
import { readSpan, writeNumber } from "./span.ts";

/** A number with a unit: the unit it is kept in, what it may be, and how many of that unit each other unit is. */
export interface Quantity {
	symbol: string;
	least: number;
	most: number;
	units: Record<string, number>;
	/** Readings of forms beside "number unit": "1 h 30", "50 x 50 cm". In the unit kept, not yet checked for range. */
	special?: (text: string) => number[] | null;
}

/** Factors of units of time, in minutes. */
export const minutesPer: Record<string, number> = {
	...named(1, "min mins minute minutes minuto minutos '"),
	...named(60, "h hr hrs hour hours hora horas"),
	...named(1 / 60, "s sec secs second seconds seg segundo segundos"),
	...named(1440, "d day days día días dia dias"),
};

const lengthUnits = {
	...named(1, "mm millimetre millimetres millimeter millimeters milímetro milímetros"),
	...named(10, "cm centimetre centimetres centímetro centímetros"),
	...named(mmPerInch, 'in inch inches " pulgada pulgadas'),
};

/** The quantities of a step; the ends of each range are those of the schema. */
export const quantities = {
	spotMm: { symbol: "mm", least: 1, most: 2000, units: lengthUnits },
	interfaceMm: { symbol: "mm", least: 0, most: 50, units: lengthUnits, special: nothing },
	forceN: {
		symbol: "N",
		least: 0,
		most: 500,
		units: {
			...named(1, "n newton newtons"),
			...named(newtonPerKgf, "kgf kg kilo kilos kp"),
			...named(newtonPerLbf, "lbf lb lbs pound pounds libra libras"),
		},
	},
	overlap: { symbol: "", least: 0, most: 0.95, units: named(0.01, "% percent pct porciento"), special: share },
	armSpeedMs: {
		symbol: "m/s",
		least: 0,
		most: 5,
		units: {
			...named(1, "m/s mps m/sec"),
			...named(0.01, "cm/s cm/sec"),
			...named(0.001, "mm/s mm/sec"),
			...named(1 / 60, "m/min"),
			...named(mmPerInch / 1000, "in/s in/sec inches/s ips"),
		},
	},
	sectionM2: {
		symbol: "m²",
		least: 0,
		most: 20,
		units: {
			...named(1, "m2 sqm m^2 squaremetre squaremetres squaremeter squaremeters metroscuadrados"),
			...named(1e-4, "cm2 cm^2 sqcm"),
			...named(m2PerSquareFoot, "ft2 sqft ft^2 squarefoot squarefeet piescuadrados"),
		},
		special: product,
	},
	amountMl: {
		symbol: "ml",
		least: 0,
		most: 1000,
		units: {
			...named(1, "ml millilitre millilitres milliliter milliliters mililitro mililitros cc"),
			...named(10, "cl"),
			...named(1000, "l litre litres liter liters litro litros"),
			...named(mlPerFluidOunce, "floz oz ounce ounces onza onzas"),
		},
	},
	waitMinutes: { symbol: "min", least: 0, most: 20160, units: minutesPer, special: duration },
} satisfies Record<string, Quantity>;

/** Reader and writer of one quantity. A range where one number is meant leaves the choice between its ends. */
export function quantity(of: Quantity): Sort<number> {
	return {
		read: (text) => readQuantity(text, of),
		write: (value, { language }) => writeQuantity(value, of, language),
	};
}

/** Film thickness in µm: "38 µm", "1.5 mil", "1,5"; a bare number takes the unit handed in. */
export function readFilm(text: string, bareUnit: FilmUnit): Reading<number> {
	const bare = bareUnit === "mil" ? umPerMil : 1;
	return readQuantity(text, { ...film, units: { ...film.units, "": bare } });
}

const film: Quantity = {
	symbol: "µm",
	least: 0,
	most: 2000,
	units: {
		...named(
			1,
			"µm μm um micron microns micra micras micrometre micrometres micrometer micrometers micrómetro micrómetros",
		),
		...named(umPerMil, "mil mils thou milésima milésimas"),
	},
};

function readQuantity(text: string, { units, least, most, special }: Quantity): Reading<number> {
	const fits = (value: number) => value >= least && value <= most;
	const specials = special?.(plainText(text).toLowerCase());
	if (specials) return oneOf(specials.filter(fits), "out-of-range");
	if (isBlank(text)) return { unread: "empty" };
	const found = readSpan(text.replace(/(\p{L})\^?2(?!\d)/gu, "$1²"));
	if (!found || found.lead !== "") return { unread: "not-a-number" };
	const unit = unitKey(found.unit);
	const factor = units[unit] ?? (unit === "" ? 1 : undefined);
	if (factor === undefined) return { unread: "unknown-unit" };
	if (found.spans.some(({ low, high }) => low === undefined || high === undefined)) return { unread: "open-range" };
	const values = found.spans.flatMap(({ low = 0, high = 0 }) => [low, high]).map((value) => inUnit(value, factor));
	return oneOf(values.filter(fits), "out-of-range");
}

function writeQuantity(value: number, { symbol, units }: Quantity, language: Language): string {
	const percent = inUnit(value, 100);
	if ("%" in units && inUnit(percent, 0.01) === value) return `${writeNumber(percent, language)} %`;
	return symbol === "" ? writeNumber(value, language) : `${writeNumber(value, language)} ${symbol}`;
}

/** A value times a factor, without the last digits that binary multiplication gets wrong. */
function inUnit(value: number, factor: number): number {
	return factor === 1 ? value : Number((value * factor).toPrecision(13));
}

function named(factor: number, names: string): Record<string, number> {
	return Object.fromEntries(names.split(" ").map((name) => [unitKey(name), factor]));
}

function unitKey(unit: string): string {
	return unit.normalize("NFKC").toLowerCase().replace(/[\s.]/g, "");
}

function nothing(text: string): number[] | null {
	return /^(?:no|none|without|ninguna?|ninguno|sin)(?: (?:interface|interfaz))?$/.test(text) ? [0] : null;
}

/** "half", "1/3"; a bare number above 1 is a percentage. */
function share(text: string): number[] | null {
	if (/^(?:half|la mitad|mitad|medio)$/.test(text)) return [0.5];
	const fraction = /^(\d{1,2}) ?\/ ?(\d{1,2})$/.exec(text);
	if (fraction && fraction[2] !== "0") return [Number(fraction[1]) / Number(fraction[2])];
	const percent = /^(\d{1,2})$/.exec(text);
	return percent && Number(percent[1]) > 1 ? [Number(percent[1]) / 100] : null;
}

/** "50 x 50 cm", "2 x 2 ft". Without a unit it could be centimetres or inches. */
function product(text: string): number[] | null {
	const sides = /^(\d+(?:[.,]\d+)?) ?(m|cm|mm|in|"|ft|')? ?(?:x|by|por) ?(\d+(?:[.,]\d+)?) ?(m|cm|mm|in|"|ft|')?$/.exec(
		text,
	);
	if (!sides) return null;
	const [, one = "", unitOfOne, other = "", unit = unitOfOne] = sides;
	const area = Number(one.replace(",", ".")) * Number(other.replace(",", "."));
	if (unitOfOne !== undefined && unitOfOne !== unit) return [];
	const metre: Record<string, number> = {
		m: 1,
		cm: 0.01,
		mm: 0.001,
		in: mmPerInch / 1000,
		'"': mmPerInch / 1000,
		ft: 0.3048,
		"'": 0.3048,
	};
	return (unit === undefined ? ["cm", "in"] : [unit]).map((name) => inUnit(area, (metre[name] ?? 0) ** 2));
}

/** "1 h 30", "1h30 min", "half an hour"; "1:30" is hours and minutes to one reader, minutes and seconds to another. */
function duration(text: string): number[] | null {
	if (/^(?:half an hour|media hora)$/.test(text)) return [30];
	const hours =
		/^(\d{1,3}) ?(?:h|hr|hrs|hours?|horas?) ?(?:and |y )?([0-5]?\d) ?(?:m|min|mins|minutes?|minutos?)?$/.exec(text);
	if (hours) return [Number(hours[1]) * 60 + Number(hours[2])];
	const clock = /^(\d{1,2}):([0-5]\d)$/.exec(text);
	return clock ? [Number(clock[1]) * 60 + Number(clock[2]), inUnit(Number(clock[1]) + Number(clock[2]) / 60, 1)] : null;
}
