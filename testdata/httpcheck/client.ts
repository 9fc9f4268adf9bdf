// Asks the running service through types made of its description.
import createClient from "openapi-fetch";
import type { components, paths } from "./api.js";
import { asDone, bench, demo } from "./demos.js";

declare const process: { env: Record<string, string | undefined> };

function hold(what: boolean, ...about: unknown[]): void {
  if (!what) throw new Error(about.map((a) => JSON.stringify(a)).join(" "));
}

const client = createClient<paths>({ baseUrl: process.env.HTTPSERVICE_URL ?? "" });

const plan = await client.POST("/v1/plan", { body: demo });
hold(plan.data !== undefined && plan.data.findings.length > 0 && plan.data.wants.length > 0, plan.error);

const sheet = await client.POST("/v1/sheet", { body: demo, params: { header: { "Accept-Language": "es" } } });
hold(typeof sheet.data === "object" && sheet.data.lang === "es" && sheet.data.pages.length > 0, sheet.error);

const page = await client.POST("/v1/sheet", { body: demo, headers: { Accept: "text/html" }, parseAs: "text" });
hold(typeof page.data === "string" && page.data.includes('<html lang="en">'), page.error);

const review = await client.POST("/v1/review", { body: { job: bench, asDone } });
if (review.data === undefined) throw new Error(JSON.stringify(review.error));
const record: components["schemas"]["Record"] = review.data;

const kept = await client.POST("/v1/record/verify", { body: { ...record } });
hold(kept.data?.outcome === "verified" && kept.data.sha256 === record.sha256, kept.error);

const altered = await client.POST("/v1/record/verify", { body: { ...record, complete: !record.complete } });
hold(altered.response.status === 422 && altered.error?.errors?.[0]?.code === "altered", altered.error);

// @ts-expect-error a job without its stations isn't one
const refused = await client.POST("/v1/plan", { body: { ...demo, stations: undefined } });
hold(refused.error?.errors?.[0]?.pointer === "/stations", refused.error);

const health = await client.GET("/healthz");
hold(health.data?.ok === true, health.error);
console.log("TypeScript client: plan, sheet, review, verify, refusal, health");
