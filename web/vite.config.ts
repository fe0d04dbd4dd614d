import { resolve } from "node:path";
import { defineConfig } from "vite";

// Two pages: the lodge, and the daybook for a phone. Names without hashes: the server's table of parts
// is made from this folder, and it sends a tag of the contents.
export default defineConfig({
  root: resolve(__dirname, "src"),
  base: "./",
  build: {
    outDir: process.env.LODGE_OUT ?? resolve(__dirname, "dist"),
    emptyOutDir: true,
    modulePreload: false,
    chunkSizeWarningLimit: 900,
    rollupOptions: {
      input: { index: resolve(__dirname, "src/index.html"), site: resolve(__dirname, "src/site.html") },
      output: {
        entryFileNames: "assets/[name].js",
        chunkFileNames: "assets/[name].js",
        assetFileNames: "assets/[name][extname]",
      },
    },
  },
  test: { root: resolve(__dirname, "src"), environment: "node" },
});
