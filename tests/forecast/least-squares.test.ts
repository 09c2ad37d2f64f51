import fc from "fast-check";
import { inverse, Matrix, QrDecomposition } from "ml-matrix";
import { describe, expect, it } from "vitest";
import { leastSquares, varianceOfSum } from "../../src/forecast/least-squares.ts";
import reference from "../reference/uncertainty.json" with { type: "json" };

type Values = Record<string, number> & { x: number[]; y: number[] };

function dataSet(id: string): Values {
	const entry = reference.find((one) => one.id === id);
	if (!entry) throw new Error(`no reference ${id}`);
	return entry.values as unknown as Values;
}

/** Digits that two figures share, as NIST counts them: −log10 of the relative difference. */
function digits(found: number, certified: number): number {
	return found === certified ? 16 : -Math.log10(Math.abs(found - certified) / Math.abs(certified));
}

function fitted(id: string, rowOf: (x: number) => number[]) {
	const { x, y } = dataSet(id);
	const { solution, root, residualSquares } = leastSquares(x.map(rowOf), y);
	const residualSd = Math.sqrt(residualSquares / (x.length - solution.length));
	return {
		solution,
		residualSquares,
		residualSd,
		sd: solution.map((_, at) => residualSd * Math.sqrt(varianceOfSum([at], root))),
	};
}

describe("NIST's data sets come out to the digits double precision has", () => {
	// Certified to 15 digits. The data have the condition 1e3, so that three of the sixteen digits may go.
	it("Norris, a line over three decades", () => {
		const norris = dataSet("strd_norris");
		const { solution, sd, residualSd, residualSquares } = fitted("strd_norris", (x) => [1, x]);
		expect(digits(solution[0] ?? 0, norris.B0 ?? 0)).toBeGreaterThan(12);
		expect(digits(solution[1] ?? 0, norris.B1 ?? 0)).toBeGreaterThan(14);
		expect(digits(sd[0] ?? 0, norris.sd_B0 ?? 0)).toBeGreaterThan(13);
		expect(digits(sd[1] ?? 0, norris.sd_B1 ?? 0)).toBeGreaterThan(13);
		expect(digits(residualSd, norris.residual_sd ?? 0)).toBeGreaterThan(13);
		expect(digits(residualSquares, norris.SSE ?? 0)).toBeGreaterThan(13);
	});

	it("NoInt1, a line through zero", () => {
		const { B1 = 0, sd_B1 = 0, residual_sd = 0 } = dataSet("strd_noint1");
		const { solution, sd, residualSd } = fitted("strd_noint1", (x) => [x]);
		expect(digits(solution[0] ?? 0, B1)).toBeGreaterThan(14);
		expect(digits(sd[0] ?? 0, sd_B1)).toBeGreaterThan(14);
		expect(digits(residualSd, residual_sd)).toBeGreaterThan(14);
	});
});

it("agrees with a general-purpose library on problems of up to eight columns", () => {
	const entry = fc.double({ min: -100, max: 100, noNaN: true });
	const problem = fc
		.tuple(fc.integer({ min: 1, max: 8 }), fc.integer({ min: 0, max: 12 }))
		.chain(([columns, more]) =>
			fc.record({
				rows: fc.array(fc.array(entry, { minLength: columns, maxLength: columns }), {
					minLength: columns + more,
					maxLength: columns + more,
				}),
				right: fc.array(entry, { minLength: columns + more, maxLength: columns + more }),
			}),
		)
		// A row more for each column, as the prior has it, keeps the columns apart.
		.map(({ rows, right }) => ({
			rows: [...rows, ...Matrix.eye(rows[0]?.length ?? 0).to2DArray()],
			right: [...right, ...(rows[0] ?? []).map(() => 0)],
		}));
	fc.assert(
		fc.property(problem, ({ rows, right }) => {
			const own = leastSquares(rows, right);
			const a = new Matrix(rows);
			const solution = new QrDecomposition(a).solve(Matrix.columnVector(right));
			const covariance = inverse(a.transpose().mmul(a));
			const off = a.mmul(solution).sub(Matrix.columnVector(right));
			for (const [at, one] of own.solution.entries()) expect(one).toBeCloseTo(solution.get(at, 0), 9);
			const root = new Matrix(own.root);
			expect(Matrix.sub(root.mmul(root.transpose()), covariance).abs().max()).toBeLessThan(1e-8);
			const all = own.solution.map((_, at) => at);
			expect(varianceOfSum(all, own.root)).toBeCloseTo(covariance.sum(), 8);
			expect(own.residualSquares / (off.dot(off) + 1)).toBeCloseTo(off.dot(off) / (off.dot(off) + 1), 9);
		}),
		{ seed: 4, numRuns: 300 },
	);
});

it("refuses fewer rows than columns, and columns that hang together", () => {
	expect(() => leastSquares([[1, 2]], [1])).toThrow("1 rows for 2 columns");
	const doubled = [
		[1, 2],
		[2, 4],
		[3, 6],
	];
	expect(() => leastSquares(doubled, [1, 2, 3])).toThrow("column 1 hangs on those before it");
});
