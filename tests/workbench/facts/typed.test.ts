import { describe, expect, it } from "vitest";
import {
	readCelsius,
	readCount,
	readDay,
	readEstimate,
	readHours,
	readId,
	readMinutes,
	readOneFilm,
	writeAmount,
	writeEstimate,
	writeOneFilm,
} from "../../../src/workbench/facts/typed.ts";

const exact = (um: number) => ({ value: { mid: um, low: um, high: um } });

describe("readEstimate", () => {
	it.each([
		["100 ± 10", "um", { value: { mid: 100, low: 90, high: 110 } }],
		["90-110 µm", "um", { value: { mid: 100, low: 90, high: 110 } }],
		["45 (35–55)", "um", { value: { mid: 45, low: 35, high: 55 } }],
		["4 mil", "um", exact(101.6)],
		["4", "mil", exact(101.6)],
		["3,9 (3,5–4,3) mil", "um", { value: { mid: 99.06, low: 88.9, high: 109.22 } }],
		["0.5–3", "um", { value: { mid: 1.75, low: 0.5, high: 3 } }],
		["45", "mil", { why: "unread-unit" }],
		["thick", "um", { why: "unread-film" }],
		["45 bananas", "um", { why: "unread-film" }],
		["45, 60 µm", "um", { why: "unread-film" }],
		["total 120", "um", { why: "unread-film" }],
		["none", "um", { why: "unread-film" }],
		["at least 40", "um", { why: "unread-film" }],
	] as const)("reads %j for a reader of %s", (text, film, expected) => {
		expect(readEstimate(text, "film", film)).toEqual(expected);
	});

	it("gives a figure typed alone the relative interval of the house's own", () => {
		const house = { mid: 50, low: 40, high: 60 };
		expect(readEstimate("100", "film", "um", house)).toEqual({ value: { mid: 100, low: 80, high: 120 } });
		expect(readEstimate("100 ± 5", "film", "um", house)).toEqual({ value: { mid: 100, low: 95, high: 105 } });
	});

	it.each(["um", "mil"] as const)("reads back what it writes, to what the reader of %s sees", (film) => {
		for (const language of ["en", "es"] as const) {
			for (const value of [exact(38).value, { mid: 105, low: 90, high: 120 }, { mid: 0.2, low: 0.05, high: 1 }]) {
				const text = writeEstimate(value, film, language);
				const read = readEstimate(text, "under", film);
				if ("why" in read) throw new Error(`${text}: ${read.why}`);
				expect(writeEstimate(read.value, film, language)).toBe(text);
			}
		}
	});
});

describe("readOneFilm", () => {
	it.each([
		["40", { value: 40 }],
		["1.6 mil", { value: 40.64 }],
		["38–42", { why: "unread-one-figure" }],
		["a lot", { why: "unread-film" }],
	])("reads %j", (text, expected) => {
		expect(readOneFilm(text, "um")).toEqual(expected);
	});
});

describe("times, temperatures, counts, days and ids", () => {
	it.each([
		["24", 24],
		["24 h", 24],
		["2 days", 48],
		["90 min", 1.5],
		["1,5 h", 1.5],
		["soon", undefined],
		["-3", undefined],
	])("reads the hours of %j", (text, hours) => {
		expect(readHours(text)).toEqual(hours === undefined ? { why: "unread-hours" } : { value: hours });
	});

	it.each([
		["35 min", 35],
		["1 h", 60],
		["a while", undefined],
	])("reads the minutes of %j", (text, minutes) => {
		expect(readMinutes(text)).toEqual(minutes === undefined ? { why: "unread-minutes" } : { value: minutes });
	});

	it.each([
		["60", 60],
		["60 °C", 60],
		["140 °F", 60],
		["140F", 60],
		["-5 °C", -5],
		["60-70 °C", undefined],
		["900 °C", undefined],
		["60 K", undefined],
		["warm", undefined],
	])("reads the degrees of %j", (text, celsius) => {
		expect(readCelsius(text, -20, 250)).toEqual(celsius === undefined ? { why: "unread-degrees" } : { value: celsius });
	});

	it.each([
		["2027-05-12", "en", "2027-05-12"],
		["12.5.2027", "en", "2027-05-12"],
		["12 May 2027", "en", "2027-05-12"],
		["12 de mayo de 2027", "es", "2027-05-12"],
		["5/12/2027", "es", "2027-12-05"],
		["5/12/2027", "en", undefined],
		["31/12/2027", "en", "2027-12-31"],
		["12/31/2027", "en", "2027-12-31"],
		["2027-02-30", "en", undefined],
		["12 Smarch 2027", "en", undefined],
		["next year", "en", undefined],
	] as const)("reads the day of %j in %s", (text, language, day) => {
		expect(readDay(text, language)).toEqual(day === undefined ? { why: "unread-date" } : { value: day });
	});

	it("reads whole numbers from the least allowed, and ids", () => {
		expect(readCount("5", 0, "unread-count")).toEqual({ value: 5 });
		expect(readCount("0", 1, "unread-revision")).toEqual({ why: "unread-revision" });
		expect(readCount("2.5", 0, "unread-count")).toEqual({ why: "unread-count" });
		expect(readId(" swirl-dark ")).toEqual({ value: "swirl-dark" });
		expect(readId("Swirl dark")).toEqual({ why: "unread-name" });
	});
});

describe("writing", () => {
	it.each([
		[writeEstimate({ mid: 105, low: 90, high: 120 }, "um", "en"), "105 (90–120) µm"],
		[writeEstimate({ mid: 105, low: 90, high: 120 }, "mil", "es"), "4,13 (3,54–4,72) mil"],
		[writeEstimate({ mid: 40, low: 40, high: 40 }, "um", "en"), "40 µm"],
		[writeEstimate({ mid: 0.2236, low: 0.05, high: 1 }, "um", "es"), "0,22 (0,05–1) µm"],
		[writeOneFilm(38.2, "mil", "en"), "1.50 mil"],
		[writeAmount(1.5, "h", "es"), "1,5 h"],
	])("says %j", (said, expected) => {
		expect(said).toBe(expected);
	});

	it("shows a value of another form as it stands in the file", () => {
		expect(writeEstimate("about 40", "um", "en")).toBe("about 40");
		expect(writeOneFilm({ mid: 40 }, "um", "en")).toBe('{"mid":40}');
		expect(writeAmount("two", "h", "en")).toBe("two");
	});
});
