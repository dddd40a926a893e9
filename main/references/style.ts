/// How references are printed, as a style of our own in the Citation Style Language 1.0
/// (https://docs.citationstyles.org): authors, year, title, where it stood, pages, DOI or address.
export const STYLE = `<?xml version="1.0" encoding="utf-8"?>
<style xmlns="http://purl.org/net/xbiblio/csl" class="in-text" version="1.0" default-locale="en-US">
  <info>
    <title>Claimframe references</title>
    <id>claimframe-references</id>
    <updated>2026-11-25T00:00:00+00:00</updated>
  </info>
  <macro name="who">
    <names variable="author">
      <name delimiter=", " name-as-sort-order="all" sort-separator=" " initialize-with="" et-al-min="7" et-al-use-first="6"/>
      <substitute><names variable="editor"/><names variable="translator"/></substitute>
    </names>
  </macro>
  <macro name="where">
    <group delimiter=", ">
      <text variable="container-title"/>
      <group><text variable="volume"/><text variable="issue" prefix="(" suffix=")"/></group>
      <text variable="page"/>
      <text variable="publisher"/>
    </group>
  </macro>
  <macro name="address">
    <choose>
      <if variable="DOI"><text variable="DOI" prefix="doi:"/></if>
      <else><text variable="URL"/></else>
    </choose>
  </macro>
  <citation><layout delimiter="; " prefix="(" suffix=")">
    <group delimiter=", ">
      <group delimiter=" "><names variable="author"><name form="short" et-al-min="3" et-al-use-first="1"/><substitute><names variable="editor"/><text variable="title"/></substitute></names><date variable="issued"><date-part name="year"/></date></group>
      <text variable="locator"/>
    </group>
  </layout></citation>
  <bibliography><layout>
    <group delimiter=". ">
      <group delimiter=" "><text macro="who"/><date variable="issued" prefix="(" suffix=")"><date-part name="year"/></date></group>
      <text variable="title"/>
      <text macro="where"/>
      <text macro="address"/>
    </group>
  </layout></bibliography>
</style>`
