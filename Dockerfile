# Rimecast: one image for every role. Build the jar first: mvn -B -Dquick package
ARG JRE_IMAGE=eclipse-temurin:17-jre
FROM ${JRE_IMAGE}
RUN useradd --system --uid 10001 --home-dir /var/lib/rimecast --create-home rimecast
COPY app/target/lib /opt/rimecast/lib
COPY app/target/rimecast.jar /opt/rimecast/rimecast.jar
USER 10001
WORKDIR /var/lib/rimecast
EXPOSE 8080 1883
# RIMECAST_JAVA_OPTS goes before everything set here: -Xmx2g, or -XX:MaxRAMPercentage=70. Half of the container's memory, since PostgreSQL,
# DuckDB and the page cache need theirs. A process without memory ends, so that whoever looks after it starts it anew.
ENTRYPOINT ["sh", "-c", "exec java -XX:MaxRAMPercentage=50 -XX:+ExitOnOutOfMemoryError ${RIMECAST_JAVA_OPTS:-} -jar /opt/rimecast/rimecast.jar \"$@\"", "rimecast"]
CMD ["serve"]
