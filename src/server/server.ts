import { createServer, type IncomingMessage, type ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";
import type { Duplex } from "node:stream";
import { getRequestListener } from "@hono/node-server";
import type { ServerProblemCode } from "../api/problems.ts";
import { appOf, type Served } from "./app.ts";
import { problemReply } from "./reply.ts";

/** How long a client may take, ms. */
export interface Patience {
	/** For its headers. */
	headersMs: number;
	/** For a whole request, its body included. */
	requestMs: number;
	/** Between two bytes, in either direction. */
	idleMs: number;
}

/** A server that runs. */
export interface RunningServer {
	/** `http://127.0.0.1:4717/` */
	address: string;
	port: number;
	/** Ends it: requests under way are answered, then it resolves. */
	close(): Promise<void>;
}

const usualPatience: Patience = { headersMs: 10_000, requestMs: 30_000, idleMs: 60_000 };

/** How long requests under way may take once the server is told to end, ms. */
const lastMs = 2000;

/**
 * Starts the server on this machine's own address, reachable from nowhere else.
 *
 * @param port 0 picks a free one
 * @returns the system's word for why it cannot listen there: `EADDRINUSE` where the port is taken
 */
export async function startServer(
	served: Served,
	port: number,
	patience: Patience = usualPatience,
): Promise<RunningServer | { refused: string }> {
	const { fetch } = appOf(served);
	const answer = getRequestListener((request, env) => fetch(request, env), {
		errorHandler: () => problemReply("not-understood"),
	});
	const shortest = Math.min(patience.headersMs, patience.requestMs);
	const server = createServer(
		{
			// A request without a host gets the same answer as one with a foreign host.
			requireHostHeader: false,
			headersTimeout: patience.headersMs,
			requestTimeout: patience.requestMs,
			connectionsCheckingInterval: Math.min(1000, Math.ceil(shortest / 4)),
		},
		(incoming, outgoing) => {
			if (isOwnHost(incoming)) void answer(incoming, outgoing);
			else void refuse(incoming, outgoing);
		},
	);
	server.setTimeout(patience.idleMs);
	server.on("clientError", answerBadRequest);
	try {
		await new Promise<void>((resolve, reject) => {
			server.once("error", reject);
			server.listen(port, "127.0.0.1", resolve);
		});
	} catch (failure) {
		const why = (failure as NodeJS.ErrnoException).code;
		if (why === undefined) throw failure;
		return { refused: why };
	}
	const taken = (server.address() as AddressInfo).port;
	return {
		address: `http://127.0.0.1:${taken}/`,
		port: taken,
		close: () =>
			new Promise((resolve) => {
				const last = setTimeout(() => server.closeAllConnections(), lastMs);
				server.close(() => {
					clearTimeout(last);
					resolve();
				});
				server.closeIdleConnections();
			}),
	};
}

/**
 * Whether a request names this server as its host, once, by a name that only this machine has: a foreign name that
 * leads here is how a page elsewhere would reach the server as its own.
 */
function isOwnHost({ rawHeaders, socket }: IncomingMessage): boolean {
	const hosts = rawHeaders.filter((_, place) => place % 2 === 1 && rawHeaders[place - 1]?.toLowerCase() === "host");
	const own = ["127.0.0.1", "localhost", "[::1]"].map((name) => `${name}:${socket.localPort}`);
	return hosts.length === 1 && own.includes(hosts[0] ?? "");
}

async function refuse(incoming: IncomingMessage, outgoing: ServerResponse): Promise<void> {
	const reply = problemReply("foreign-host", undefined, { connection: "close" });
	outgoing.writeHead(reply.status, Object.fromEntries(reply.headers));
	outgoing.end(incoming.method === "HEAD" ? undefined : await reply.text());
	incoming.resume();
}

/** Answers what never became a whole request, as far as anyone still listens, and hangs up. */
function answerBadRequest(failure: NodeJS.ErrnoException, socket: Duplex): void {
	if (!socket.writable || failure.code === "ECONNRESET") {
		socket.destroy();
		return;
	}
	const code: ServerProblemCode = failure.code === "ERR_HTTP_REQUEST_TIMEOUT" ? "too-slow" : "not-understood";
	const reply = problemReply(code, undefined, { connection: "close" });
	void reply.text().then((body) => {
		const head = [...reply.headers, ["content-length", String(Buffer.byteLength(body))]].map((pair) => pair.join(": "));
		socket.end([`HTTP/1.1 ${reply.status} ${code}`, ...head, "", body].join("\r\n"), () => socket.destroy());
	});
}
