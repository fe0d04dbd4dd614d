import { resolve } from "node:path";
import { defineConfig } from "vite";
import { viteSingleFile } from "vite-plugin-singlefile";

// The page for viewing only, whole in one file: `GET /api/export` puts the sheaves into it.
export default defineConfig({
  root: resolve(__dirname, "src"),
  base: "./",
  plugins: [viteSingleFile()],
  build: {
    outDir: process.env.LODGE_OUT ?? resolve(__dirname, "dist"),
    emptyOutDir: false,
    rollupOptions: { input: resolve(__dirname, "src/view.html") },
  },
});
