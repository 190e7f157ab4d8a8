# Rimecast: one image for every role. Build the jar first: mvn -B -Dquick package
ARG JRE_IMAGE=eclipse-temurin:17-jre
FROM ${JRE_IMAGE}
RUN useradd --system --uid 10001 --home-dir /var/lib/rimecast --create-home rimecast
COPY app/target/lib /opt/rimecast/lib
COPY app/target/rimecast.jar /opt/rimecast/rimecast.jar
USER 10001
WORKDIR /var/lib/rimecast
EXPOSE 8080 1883
ENTRYPOINT ["java", "-Xmx512m", "-jar", "/opt/rimecast/rimecast.jar"]
CMD ["serve"]
