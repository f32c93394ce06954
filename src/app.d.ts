/** The part of Trusted Types we use; TypeScript's DOM library does not have it yet. */
interface TrustedTypePolicyFactory {
	createPolicy(name: string, rules: { createScriptURL: (address: string) => string }): unknown;
}

interface Window {
	readonly trustedTypes?: TrustedTypePolicyFactory;
}
