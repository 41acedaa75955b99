FROM node:24-slim AS build
WORKDIR /book
COPY package.json package-lock.json ./
RUN npm ci
COPY . .
RUN npm run generate && npm run build

FROM node:24-slim
ENV NODE_ENV=production
WORKDIR /book
COPY package.json package-lock.json ./
RUN npm ci --omit=dev && mkdir /data && chown node:node /data
COPY server server
COPY prisma prisma
COPY --from=build /book/prisma/client prisma/client
COPY --from=build /book/dist dist
USER node
EXPOSE 4180
CMD ["node_modules/.bin/tsx", "server/main.ts"]
